/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/sheet-private.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "draw/palette.h"
#include "window/appearance.h"

#define MOST_DECIMALS 4
#define MOST_LAYOUTS 5000

typedef struct
{
  GdkRGBA base, aside, header, ink, dim, line, accent, tint, trouble, trouble_tint;
} Colors;

/* What is in sight, and what everything is painted with. */
typedef struct
{
  TrammelSheet *sheet;
  GtkSnapshot *snapshot;
  Colors colors;
  int width, height;
  int right; /* end of the columns that scroll */
  int first_row, last_row;
  GPtrArray *texts; /* of the cells in sight, row by row; NULL: out of sight */
  TrammelBlock block;
  gboolean focused;
  const TrammelFitted *fitted; /* NULL: no adjustment */
  gsize n_fitted;
  const TrammelReading *rows;
  gsize n_readings;
} Painting;

const char *
trammel_sheet_column_title (int column)
{
  return column == TRAMMEL_SHEET_RESIDUAL ? _ ("Residual") : trammel_column_label (column);
}

static gboolean
is_numeric (int column)
{
  return column == TRAMMEL_SHEET_RESIDUAL || trammel_cell_is_numeric (column);
}

/* Colors */

static GdkRGBA
theme_color (GtkStyleContext *context, const char *name, const char *otherwise)
{
  GdkRGBA color;
  if (!gtk_style_context_lookup_color (context, name, &color))
    gdk_rgba_parse (&color, otherwise);
  return color;
}

static GdkRGBA
with_alpha (GdkRGBA color, float alpha)
{
  color.alpha *= alpha;
  return color;
}

static GdkRGBA
mixed (GdkRGBA a, GdkRGBA b, float share)
{
  return (GdkRGBA){ a.red + (b.red - a.red) * share, a.green + (b.green - a.green) * share,
                    a.blue + (b.blue - a.blue) * share, 1 };
}

static GdkRGBA
palette_color (TrammelColor color)
{
  return (GdkRGBA){ (float)color.r, (float)color.g, (float)color.b, 1 };
}

static Colors
colors_of (TrammelSheet *self)
{
  GtkStyleContext *context = gtk_widget_get_style_context (GTK_WIDGET (self));
  const TrammelPalette *palette = trammel_palette (trammel_window_is_dark (GTK_WIDGET (self)));
  Colors colors = { .base = theme_color (context, "theme_base_color", "white"),
                    .accent = theme_color (context, "theme_selected_bg_color", "#3584e4"),
                    .trouble = palette_color (palette->trouble) };
  gtk_style_context_get_color (context, &colors.ink);
  /* The accent of a dark theme is for large areas; as an outline it would hardly be seen */
  if (palette->dark)
    colors.accent = mixed (colors.accent, colors.ink, 0.4f);
  colors.aside = mixed (colors.base, colors.ink, 0.02f);
  colors.header = mixed (colors.base, colors.ink, 0.05f);
  colors.dim = mixed (colors.base, colors.ink, 0.6f);
  colors.line = with_alpha (colors.ink, 0.1f);
  colors.tint = with_alpha (colors.accent, 0.18f);
  colors.trouble_tint = with_alpha (colors.trouble, 0.14f);
  return colors;
}

/* Text */

static PangoLayout *
layout_of (TrammelSheet *self, const char *text)
{
  PangoLayout *layout = g_hash_table_lookup (self->layouts, text);
  if (layout)
    return layout;
  if (g_hash_table_size (self->layouts) > MOST_LAYOUTS)
    g_hash_table_remove_all (self->layouts);

  layout = gtk_widget_create_pango_layout (GTK_WIDGET (self), text);
  g_autoptr (PangoAttrList) attributes = pango_attr_list_new ();
  pango_attr_list_insert (attributes, pango_attr_font_features_new ("tnum=1"));
  pango_layout_set_attributes (layout, attributes);
  pango_layout_set_single_paragraph_mode (layout, TRUE);
  g_hash_table_insert (self->layouts, g_strdup (text), layout);
  return layout;
}

/* @text in @bounds, @xalign 0…1, with @right kept free at the right; what does not fit is cut off. */
static void
paint_text (const Painting *p, const char *text, graphene_rect_t bounds, double xalign, double right, GdkRGBA color)
{
  if (*text == '\0')
    return;
  int width, height;
  PangoLayout *layout = layout_of (p->sheet, text);
  pango_layout_get_pixel_size (layout, &width, &height);

  double room = bounds.size.width - 2 * TRAMMEL_SHEET_PADDING - right;
  gboolean cut = width > room;
  double x = bounds.origin.x + TRAMMEL_SHEET_PADDING + (cut ? 0 : (room - width) * xalign);
  double y = bounds.origin.y + (bounds.size.height - height) / 2;
  if (cut)
    gtk_snapshot_push_clip (
        p->snapshot, &GRAPHENE_RECT_INIT (bounds.origin.x, bounds.origin.y, bounds.size.width - 2, bounds.size.height));
  gtk_snapshot_save (p->snapshot);
  gtk_snapshot_translate (p->snapshot, &GRAPHENE_POINT_INIT ((float)round (x), (float)floor (y)));
  gtk_snapshot_append_layout (p->snapshot, layout, &color);
  gtk_snapshot_restore (p->snapshot);
  if (cut)
    gtk_snapshot_pop (p->snapshot);
}

static int
decimals_in (const char *number)
{
  const char *sign = strstr (number, trammel_display_decimal_sign ());
  if (!sign)
    return 0;
  int n = 0;
  for (const char *c = sign + strlen (trammel_display_decimal_sign ()); g_ascii_isdigit (*c); c++)
    n++;
  return MIN (n, MOST_DECIMALS);
}

/* The room to keep free to the right of @number, so that decimal signs stand under each other. */
static double
room_after_number (const TrammelSheet *self, int column, const char *number)
{
  int most = self->decimals[column], own = decimals_in (number);
  if (most == 0 || own == most)
    return 0;
  return (most - own) * self->digit_width + (own == 0 ? self->sign_width : 0);
}

/* Cells */

static const TrammelFitted *
fitted_of (const Painting *p, int row)
{
  if (!p->fitted || (gsize)row >= p->n_fitted || isnan (p->fitted[row].residual))
    return NULL;
  return &p->fitted[row];
}

/* (transfer full) */
static char *
residual_text (const Painting *p, int row)
{
  const TrammelFitted *fitted = fitted_of (p, row);
  if (!fitted)
    return g_strdup ("");
  double factor = trammel_unit_factor (trammel_sheet_unit (p->sheet));
  return trammel_display_number (fitted->residual / factor, factor == 1 ? 3 : 4);
}

/* (transfer full) */
static char *
text_of (const Painting *p, int row, int column)
{
  if (column == TRAMMEL_SHEET_RESIDUAL)
    return residual_text (p, row);
  if ((gsize)row >= p->n_readings)
    return g_strdup ("");
  return trammel_cell_to_show (&p->rows[row], column, trammel_sheet_unit (p->sheet));
}

static void
fill (const Painting *p, double x, double y, double width, double height, GdkRGBA color)
{
  gtk_snapshot_append_color (p->snapshot, &color,
                             &GRAPHENE_RECT_INIT ((float)x, (float)y, (float)width, (float)height));
}

/* A bad cell has a tint and, for those who do not see it, a corner. */
static void
paint_bad_corner (const Painting *p, graphene_rect_t cell)
{
  fill (p, cell.origin.x, cell.origin.y, cell.size.width, cell.size.height, p->colors.trouble_tint);
  double right = cell.origin.x + cell.size.width - 1;
  graphene_rect_t corner = GRAPHENE_RECT_INIT ((float)right - 8, cell.origin.y, 8, 8);
  cairo_t *cr = gtk_snapshot_append_cairo (p->snapshot, &corner);
  cairo_move_to (cr, right - 8, cell.origin.y);
  cairo_line_to (cr, right, cell.origin.y);
  cairo_line_to (cr, right, cell.origin.y + 8);
  cairo_close_path (cr);
  gdk_cairo_set_source_rgba (cr, &p->colors.trouble);
  cairo_fill (cr);
  cairo_destroy (cr);
}

/* A suspect: a filled diamond before its residual. */
static void
paint_suspect (const Painting *p, graphene_rect_t cell)
{
  double x = cell.origin.x + TRAMMEL_SHEET_PADDING + 5, y = cell.origin.y + cell.size.height / 2, r = 5;
  cairo_t *cr = gtk_snapshot_append_cairo (p->snapshot, &GRAPHENE_RECT_INIT ((float)(x - r), (float)(y - r), 10, 10));
  cairo_move_to (cr, x, y - r);
  cairo_line_to (cr, x + r, y);
  cairo_line_to (cr, x, y + r);
  cairo_line_to (cr, x - r, y);
  cairo_close_path (cr);
  gdk_cairo_set_source_rgba (cr, &p->colors.trouble);
  cairo_fill (cr);
  cairo_destroy (cr);
}

static gboolean
is_bad (const Painting *p, int row, int column)
{
  const TrammelReading *reading = &p->rows[row];
  if (!reading->faulty || column == TRAMMEL_SHEET_RESIDUAL)
    return FALSE;
  g_autofree char *faulty = trammel_reading_faulty (reading, column);
  return faulty != NULL;
}

static void
paint_cell (const Painting *p, int row, int column, const char *text)
{
  TrammelSheet *self = p->sheet;
  graphene_rect_t cell = trammel_sheet_cell_bounds (self, row, column);
  gboolean there = (gsize)row < p->n_readings;
  gboolean bad = there && is_bad (p, row, column);
  gboolean residual = column == TRAMMEL_SHEET_RESIDUAL;
  gboolean number = is_numeric (column) && !bad;
  const TrammelFitted *fitted = residual ? fitted_of (p, row) : NULL;
  gboolean typed_over = row == self->cursor.row && column == self->cursor.column && self->mode != TRAMMEL_SHEET_MOVING;

  if (bad)
    paint_bad_corner (p, cell);
  if (fitted && fitted->suspect)
    paint_suspect (p, cell);
  if (typed_over)
    return;
  if (!there && column == 0)
    paint_text (p, _ ("type here"), cell, 0, 0, with_alpha (p->colors.dim, 0.7f));
  paint_text (p, text, cell, number ? 1 : 0, number ? room_after_number (self, column, text) : 0,
              residual && !(fitted && fitted->suspect) ? p->colors.dim : p->colors.ink);
}

static gboolean
is_in_sight (const Painting *p, int column)
{
  if (column == TRAMMEL_SHEET_RESIDUAL)
    return TRUE;
  double x = p->sheet->number_width - gtk_adjustment_get_value (p->sheet->horizontal);
  return x + p->sheet->starts[column + 1] > p->sheet->number_width && x + p->sheet->starts[column] < p->right;
}

/* Made before anything is painted: they tell how many decimals the columns have. (transfer full) */
static GPtrArray *
texts_in_sight (const Painting *p)
{
  GPtrArray *texts = g_ptr_array_new_with_free_func (g_free);
  for (int row = p->first_row; row <= p->last_row; row++)
    for (int column = 0; column < TRAMMEL_SHEET_N_COLUMNS; column++)
      {
        char *text = is_in_sight (p, column) ? text_of (p, row, column) : NULL;
        if (text && is_numeric (column))
          p->sheet->decimals[column] = MAX (p->sheet->decimals[column], decimals_in (text));
        g_ptr_array_add (texts, text);
      }
  return texts;
}

static void
paint_cells (const Painting *p, int first_column, int last_column)
{
  for (int row = p->first_row; row <= p->last_row; row++)
    for (int column = first_column; column <= last_column; column++)
      {
        guint place = (guint)((row - p->first_row) * TRAMMEL_SHEET_N_COLUMNS + column);
        const char *text = g_ptr_array_index (p->texts, place);
        if (text)
          paint_cell (p, row, column, text);
      }
}

static void
paint_selection (const Painting *p)
{
  TrammelBlock block = p->block;
  if (block.top == block.bottom && block.left == block.right)
    return;
  int top = MAX ((int)block.top, p->first_row), bottom = MIN ((int)block.bottom, p->last_row);
  if (top > bottom)
    return;
  graphene_rect_t first = trammel_sheet_cell_bounds (p->sheet, top, block.left);
  graphene_rect_t last = trammel_sheet_cell_bounds (p->sheet, bottom, block.right);
  fill (p, first.origin.x, first.origin.y, last.origin.x + last.size.width - first.origin.x,
        last.origin.y + last.size.height - first.origin.y, p->colors.tint);
}

static void
paint_row_lines (const Painting *p, double x, double width)
{
  for (int row = p->first_row; row <= p->last_row; row++)
    fill (p, x, trammel_sheet_cell_bounds (p->sheet, row, 0).origin.y + p->sheet->row_height - 1, width, 1,
          p->colors.line);
}

static void
paint_grid (const Painting *p)
{
  TrammelSheet *self = p->sheet;
  graphene_rect_t last = trammel_sheet_cell_bounds (self, p->last_row, TRAMMEL_N_COLUMNS - 1);
  double bottom = last.origin.y + last.size.height;

  paint_row_lines (p, self->number_width, p->right - self->number_width);
  for (int column = 0; column < TRAMMEL_N_COLUMNS; column++)
    {
      graphene_rect_t cell = trammel_sheet_cell_bounds (self, p->first_row, column);
      fill (p, cell.origin.x + cell.size.width - 1, self->header_height, 1, bottom - self->header_height,
            p->colors.line);
    }
}

static void
paint_arrow (const Painting *p, graphene_rect_t cell)
{
  float x = cell.origin.x + cell.size.width - 17, y = cell.origin.y + cell.size.height / 2 - 2;
  cairo_t *cr = gtk_snapshot_append_cairo (p->snapshot, &GRAPHENE_RECT_INIT (x, y, 10, 6));
  cairo_move_to (cr, x + 0.5, y);
  cairo_line_to (cr, x + 9.5, y);
  cairo_line_to (cr, x + 5, y + 5);
  cairo_close_path (cr);
  gdk_cairo_set_source_rgba (cr, &p->colors.dim);
  cairo_fill (cr);
  cairo_destroy (cr);
}

static void
paint_cursor (const Painting *p)
{
  TrammelSheet *self = p->sheet;
  graphene_rect_t cell = trammel_sheet_cell_bounds (self, self->cursor.row, self->cursor.column);
  GdkRGBA color = p->focused ? p->colors.accent : p->colors.dim;

  if (self->mode != TRAMMEL_SHEET_MOVING)
    {
      fill (p, cell.origin.x, cell.origin.y, cell.size.width - 1, cell.size.height - 1, p->colors.base);
      gtk_widget_snapshot_child (GTK_WIDGET (self), GTK_WIDGET (self->text), p->snapshot);
    }
  else if (p->focused && trammel_sheet_has_choices (self->cursor.column))
    paint_arrow (p, cell);

  GskRoundedRect outline;
  gsk_rounded_rect_init_from_rect (
      &outline, &GRAPHENE_RECT_INIT (cell.origin.x - 1, cell.origin.y - 1, cell.size.width + 1, cell.size.height + 1),
      2);
  gtk_snapshot_append_border (p->snapshot, &outline, (float[]){ 2, 2, 2, 2 },
                              (GdkRGBA[]){ color, color, color, color });
}

/* The numbers of the rows and the titles of the columns */

static gboolean
row_is_bad (const Painting *p, int row)
{
  if ((gsize)row >= p->n_readings)
    return FALSE;
  const TrammelReading *reading = &p->rows[row];
  return row == p->sheet->refused_row || reading->faulty
         || (trammel_reading_is_complete (reading) && !trammel_reading_check (reading, NULL));
}

static void
paint_numbers (const Painting *p)
{
  TrammelSheet *self = p->sheet;
  fill (p, 0, 0, self->number_width, p->height, p->colors.header);
  for (int row = p->first_row; row <= p->last_row; row++)
    {
      graphene_rect_t cell = trammel_sheet_cell_bounds (self, row, 0);
      cell.origin.x = 0;
      cell.size.width = (float)self->number_width;
      gboolean selected = row >= (int)p->block.top && row <= (int)p->block.bottom;
      if (selected)
        fill (p, 0, cell.origin.y, self->number_width, self->row_height, p->colors.tint);
      if (row_is_bad (p, row))
        paint_bad_corner (p, cell);
      g_autofree char *number = (gsize)row < p->n_readings ? g_strdup_printf ("%d", row + 1) : g_strdup ("+");
      paint_text (p, number, cell, 1, 0, selected ? p->colors.ink : p->colors.dim);
      fill (p, 0, cell.origin.y + self->row_height - 1, self->number_width, 1, p->colors.line);
    }
  fill (p, self->number_width - 1, 0, 1, p->height, p->colors.line);
}

/* What follows from the fit stands apart at the right end. */
static void
paint_residuals (const Painting *p)
{
  double width = p->width - p->right;
  fill (p, p->right, 0, width, p->height, p->colors.aside);
  paint_row_lines (p, p->right, width);
  paint_cells (p, TRAMMEL_SHEET_RESIDUAL, TRAMMEL_SHEET_RESIDUAL);
  fill (p, p->right, 0, 1, p->height, p->colors.line);
}

static const char *
unit_of_column (const Painting *p, int column)
{
  return column == TRAMMEL_COLUMN_RUN || !is_numeric (column) ? NULL
                                                              : trammel_unit_symbol (trammel_sheet_unit (p->sheet));
}

static void
paint_title (const Painting *p, int column)
{
  graphene_rect_t cell = trammel_sheet_cell_bounds (p->sheet, 0, column);
  cell.origin.y = 0;
  cell.size.height = (float)p->sheet->header_height;
  if (column >= p->block.left && column <= p->block.right)
    fill (p, cell.origin.x, 0, cell.size.width, cell.size.height, p->colors.tint);

  const char *unit = unit_of_column (p, column);
  int unit_width = 0;
  if (unit)
    {
      pango_layout_get_pixel_size (layout_of (p->sheet, unit), &unit_width, NULL);
      unit_width += 5;
      paint_text (p, unit, cell, 1, 0, with_alpha (p->colors.dim, 0.8f));
    }
  paint_text (p, trammel_sheet_column_title (column), cell, is_numeric (column) ? 1 : 0, unit_width, p->colors.ink);
  fill (p, cell.origin.x + (column == TRAMMEL_SHEET_RESIDUAL ? 0 : cell.size.width - 1), 0, 1, cell.size.height,
        p->colors.line);
}

static void
push_clip (const Painting *p, double x, double y, double right, double bottom)
{
  gtk_snapshot_push_clip (
      p->snapshot, &GRAPHENE_RECT_INIT ((float)x, (float)y, (float)MAX (right - x, 0), (float)MAX (bottom - y, 0)));
}

static void
paint_titles (const Painting *p)
{
  TrammelSheet *self = p->sheet;
  fill (p, 0, 0, p->width, self->header_height, p->colors.header);
  push_clip (p, self->number_width, 0, p->right, self->header_height);
  for (int column = 0; column < TRAMMEL_N_COLUMNS; column++)
    if (is_in_sight (p, column))
      paint_title (p, column);
  gtk_snapshot_pop (p->snapshot);
  paint_title (p, TRAMMEL_SHEET_RESIDUAL);
  fill (p, 0, self->header_height - 1, p->width, 1, p->colors.line);
}

static Painting
painting_of (TrammelSheet *self, GtkSnapshot *snapshot)
{
  double top = gtk_adjustment_get_value (self->vertical);
  int height = gtk_widget_get_height (GTK_WIDGET (self));
  Painting p = { .sheet = self,
                 .snapshot = snapshot,
                 .colors = colors_of (self),
                 .width = gtk_widget_get_width (GTK_WIDGET (self)),
                 .height = height,
                 .right = gtk_widget_get_width (GTK_WIDGET (self)) - self->widths[TRAMMEL_SHEET_RESIDUAL],
                 .block = trammel_sheet_block (self),
                 .focused = gtk_widget_has_focus (GTK_WIDGET (self->text)) };
  p.first_row = MAX ((int)(top / self->row_height), 0);
  p.last_row = (int)((top + MAX (height - self->header_height, 0)) / self->row_height);
  p.last_row = MIN (p.last_row, trammel_sheet_n_rows (self) - 1);
  p.rows = trammel_readings_rows (trammel_sheet_readings (self), &p.n_readings);
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, NULL);
  if (adjustment)
    p.fitted = trammel_adjustment_fitted (adjustment, &p.n_fitted);
  return p;
}

void
trammel_sheet_paint (TrammelSheet *self, GtkSnapshot *snapshot)
{
  Painting p = painting_of (self, snapshot);
  p.texts = texts_in_sight (&p);

  fill (&p, 0, 0, p.width, p.height, p.colors.base);
  push_clip (&p, self->number_width, self->header_height, p.right, p.height);
  paint_selection (&p);
  paint_grid (&p);
  paint_cells (&p, 0, TRAMMEL_N_COLUMNS - 1);
  paint_cursor (&p);
  gtk_snapshot_pop (snapshot);

  push_clip (&p, p.right, self->header_height, p.width, p.height);
  paint_residuals (&p);
  gtk_snapshot_pop (snapshot);
  push_clip (&p, 0, self->header_height, self->number_width, p.height);
  paint_numbers (&p);
  gtk_snapshot_pop (snapshot);
  paint_titles (&p);
  g_ptr_array_unref (p.texts);
}
