/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "draw/error-plot-private.h"
#include "draw/label.h"

#define LEGEND_MARK 4.5
#define LEGEND_SAMPLE 22.0
#define LEGEND_GAP 16.0
/* Fewer readings than these are two pixels wide in a density. */
#define LARGE_DOTS_BELOW 50000
#define FAINTEST_DOT 110
#define DARKEST_DOT 230

static void
square_path (cairo_t *cr, double x, double y, double r)
{
  cairo_rectangle (cr, x - 0.9 * r, y - 0.9 * r, 1.8 * r, 1.8 * r);
}

static void
diamond_path (cairo_t *cr, double x, double y, double r)
{
  cairo_move_to (cr, x, y - 1.3 * r);
  cairo_line_to (cr, x + 1.3 * r, y);
  cairo_line_to (cr, x, y + 1.3 * r);
  cairo_line_to (cr, x - 1.3 * r, y);
  cairo_close_path (cr);
}

static void
triangle_path (cairo_t *cr, double x, double y, double r)
{
  cairo_move_to (cr, x, y - 1.25 * r);
  cairo_line_to (cr, x + 1.15 * r, y + 0.85 * r);
  cairo_line_to (cr, x - 1.15 * r, y + 0.85 * r);
  cairo_close_path (cr);
}

static void
disc_path (cairo_t *cr, double x, double y, double r)
{
  cairo_new_sub_path (cr);
  cairo_arc (cr, x, y, r, 0, 2 * G_PI);
}

/* Shape tells the kind; what is measured from within is hollow. */
static const struct
{
  void (*path) (cairo_t *cr, double x, double y, double r);
  gboolean hollow;
} marks[TRAMMEL_N_READING_KINDS] = {
  [TRAMMEL_READING_OUTSIDE] = { square_path, FALSE },  [TRAMMEL_READING_INSIDE] = { square_path, TRUE },
  [TRAMMEL_READING_CENTER] = { diamond_path, FALSE },  [TRAMMEL_READING_HEIGHT] = { triangle_path, FALSE },
  [TRAMMEL_READING_TRAVEL] = { disc_path, FALSE },     [TRAMMEL_READING_POSITION] = { disc_path, TRUE },
  [TRAMMEL_READING_REVERSAL] = { diamond_path, TRUE }, [TRAMMEL_READING_HOME] = { diamond_path, TRUE },
};

void
trammel_error_mark (cairo_t *cr, TrammelReadingKind kind, double x, double y, double radius, const TrammelColor *color,
                    const TrammelColor *ground)
{
  marks[kind].path (cr, x, y, radius);
  trammel_color_set (cr, marks[kind].hollow ? *ground : *color, 1);
  cairo_fill_preserve (cr);
  trammel_color_set (cr, marks[kind].hollow ? *color : *ground, 1);
  cairo_set_line_width (cr, marks[kind].hollow ? 1.6 : 0.8);
  cairo_stroke (cr);
}

typedef enum
{
  SAMPLE_MARK,
  SAMPLE_INTERVAL,
  SAMPLE_LINE,
  SAMPLE_SUSPECT,
  SAMPLE_DENSITY,
} Sample;

static void
paint_line_sample (cairo_t *cr, double x, double y, TrammelColor color)
{
  cairo_rectangle (cr, x - LEGEND_SAMPLE / 2, y - 5, LEGEND_SAMPLE, 10);
  trammel_color_set (cr, color, 0.18);
  cairo_fill (cr);
  cairo_move_to (cr, x - LEGEND_SAMPLE / 2, y);
  cairo_line_to (cr, x + LEGEND_SAMPLE / 2, y);
  trammel_color_set (cr, color, 1);
  cairo_set_line_width (cr, 2);
  cairo_stroke (cr);
}

static void
paint_interval_sample (cairo_t *cr, double x, double y, TrammelColor color)
{
  trammel_color_set (cr, color, 0.8);
  cairo_set_line_width (cr, 1.2);
  cairo_move_to (cr, x, y - 6);
  cairo_line_to (cr, x, y + 6);
  cairo_move_to (cr, x - 3, y - 6);
  cairo_line_to (cr, x + 3, y - 6);
  cairo_move_to (cr, x - 3, y + 6);
  cairo_line_to (cr, x + 3, y + 6);
  cairo_stroke (cr);
}

static void
paint_sample (cairo_t *cr, Sample sample, TrammelReadingKind kind, double x, double y, const TrammelPalette *palette,
              TrammelColor color)
{
  switch (sample)
    {
    case SAMPLE_MARK:
      trammel_error_mark (cr, kind, x, y, LEGEND_MARK, &color, &palette->ground);
      return;
    case SAMPLE_INTERVAL:
      paint_interval_sample (cr, x, y, color);
      return;
    case SAMPLE_LINE:
      paint_line_sample (cr, x, y, color);
      return;
    case SAMPLE_SUSPECT:
      trammel_color_set (cr, palette->trouble, 1);
      cairo_set_line_width (cr, 2);
      disc_path (cr, x, y, 6);
      cairo_stroke (cr);
      return;
    case SAMPLE_DENSITY:
    default:
      trammel_color_set (cr, color, 0.7);
      cairo_rectangle (cr, x - 5, y - 5, 10, 10);
      cairo_fill (cr);
    }
}

typedef struct
{
  cairo_t *cr;
  double left, right, top, line; /* where it may go */
  double x, y;                   /* of the next entry */
  const TrammelPalette *palette;
  TrammelColor color;
  TrammelLabel label;
} Legend;

static void
add_entry (Legend *legend, Sample sample, TrammelReadingKind kind, const char *text)
{
  double room = sample == SAMPLE_LINE ? LEGEND_SAMPLE : 12, width;

  trammel_label_size (legend->cr, &legend->label, text, &width, NULL);
  if (legend->x > legend->left && legend->x + room + 5 + width > legend->right)
    {
      legend->x = legend->left;
      legend->y += legend->line;
    }
  if (legend->palette)
    {
      double middle = legend->y + legend->line / 2;
      paint_sample (legend->cr, sample, kind, legend->x + room / 2, middle, legend->palette, legend->color);
      trammel_color_set (legend->cr, legend->palette->ink, 0.9);
      trammel_label_paint (legend->cr, &legend->label, text, legend->x + room + 5, middle);
    }
  legend->x += room + 5 + width + LEGEND_GAP;
}

double
trammel_error_legend (const TrammelErrorPlot *plot, cairo_t *cr, double x, double y, double width,
                      const TrammelPalette *palette, TrammelColor color, const char *font)
{
  TrammelLabel label = { .font = font, .scale = 0.92, .yalign = 0.5 };
  Legend legend = { cr, x, x + width, y, trammel_label_line (cr, &label) + 3, x, y, palette, color, label };
  gboolean many = trammel_error_plot_is_many (plot);

  for (guint kind = 0; kind < TRAMMEL_N_READING_KINDS && !many; kind++)
    if (plot->kinds & 1u << kind)
      add_entry (&legend, SAMPLE_MARK, kind, trammel_reading_kind_label (kind));
  if (many)
    add_entry (&legend, SAMPLE_DENSITY, 0, _ ("Darker: more readings"));
  else
    /* xgettext:no-c-format */
    add_entry (&legend, SAMPLE_INTERVAL, 0, _ ("95 % interval of a reading"));
  add_entry (&legend, SAMPLE_LINE, 0, _ ("Fit with its 95 % band"));
  if (plot->n_suspects > 0)
    add_entry (&legend, SAMPLE_SUSPECT, 0, _ ("Suspect"));
  return legend.y + legend.line - y;
}

/* How many readings each pixel has. */
static guint *
counts_of_pixels (const TrammelErrorPlot *plot, const TrammelErrorPanel *panel, int width, int height, guint *most)
{
  guint *counts = g_new0 (guint, (gsize)width * height);
  int dot = plot->n_points < LARGE_DOTS_BELOW ? 2 : 1;
  double across = panel->width / (panel->across.high - panel->across.low);
  double up = panel->height / (panel->up.high - panel->up.low);

  *most = 1;
  for (gsize i = 0; i < plot->n_points; i++)
    {
      double value = trammel_error_plot_value (plot, &plot->points[i], panel->after);
      double x = (plot->points[i].x - panel->across.low) * across, y = (panel->up.high - value) * up;
      if (!(x >= 0 && x + dot <= width && y >= 0 && y + dot <= height))
        continue;
      guint *corner = &counts[(gsize)y * width + (gsize)x];
      for (int row = 0; row < dot; row++)
        for (int column = 0; column < dot; column++)
          corner[row * width + column]++;
      *most = MAX (*most, *corner);
    }
  return counts;
}

/* A lone reading shows clearly; from there on by the logarithm, so that tail and middle can both be told. */
static guchar
darkness (guint count, guint most)
{
  if (count == 0)
    return 0;
  return (guchar)(FAINTEST_DOT + (DARKEST_DOT - FAINTEST_DOT) * log (count) / MAX (log (most), 1));
}

static void
blacken (cairo_surface_t *surface, const guint *counts, int width, int height, guint most)
{
  guchar *pixels = cairo_image_surface_get_data (surface);
  int stride = cairo_image_surface_get_stride (surface);

  for (int y = 0; y < height; y++)
    for (int x = 0; x < width; x++)
      pixels[y * stride + x] = darkness (counts[(gsize)y * width + x], most);
  cairo_surface_mark_dirty (surface);
}

void
trammel_error_density (const TrammelErrorPlot *plot, cairo_t *cr, const TrammelErrorPanel *panel, TrammelColor color)
{
  int width = MAX ((int)ceil (panel->width), 2), height = MAX ((int)ceil (panel->height), 2);
  cairo_surface_t *surface = cairo_image_surface_create (CAIRO_FORMAT_A8, width, height);

  if (cairo_surface_status (surface) == CAIRO_STATUS_SUCCESS)
    {
      guint most;
      g_autofree guint *counts = counts_of_pixels (plot, panel, width, height, &most);
      blacken (surface, counts, width, height, most);
      trammel_color_set (cr, color, 1);
      cairo_mask_surface (cr, surface, round (panel->x), round (panel->y));
    }
  cairo_surface_destroy (surface);
}
