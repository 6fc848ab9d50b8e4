/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <math.h>

#include "draw/display.h"
#include "draw/error-plot-private.h"
#include "draw/ticks.h"

#define BETWEEN_PANELS 18.0
#define SIDE_BY_SIDE_WIDTH 640.0
#define STACKED_HEIGHT 400.0
#define BEFORE_PART 0.56 /* of the height, when stacked */
#define MARK_APART 9.0
#define MOST_APART 44.0

/* Up to five numbers may stand close; more have room around them. */
TrammelTicks
trammel_error_up_ticks (const TrammelErrorPainting *painting, TrammelRange up, double height)
{
  int close = (int)(height / (1.5 * painting->line)), roomy = (int)(height / (2.4 * painting->line));
  return trammel_ticks_make (up.low, up.high, CLAMP (close, 2, MAX (5, roomy)));
}

static double
widest_number (const TrammelErrorPainting *painting, TrammelRange up, double height)
{
  TrammelTicks ticks = trammel_error_up_ticks (painting, up, height);
  TrammelLabel label = trammel_error_label (painting, 0.92, 0, 0);
  double widest = 0;

  for (int i = 0; i < ticks.n; i++)
    {
      g_autofree char *number = trammel_display_number (trammel_ticks_at (ticks, i), ticks.decimals);
      double width;
      trammel_label_size (painting->cr, &label, number, &width, NULL);
      widest = MAX (widest, width);
    }
  return widest;
}

/* The range of the panel after correction: as many mm per pixel as before, or a round number of times fewer. */
static void
match_after_to_before (TrammelErrorPanel *after, const TrammelErrorPanel *before)
{
  double own = after->up.high - after->up.low;
  double same = (before->up.high - before->up.low) * after->height / before->height;
  double enlarged = MAX (trammel_ticks_round_down (same / own), 1);
  double room = MAX (same / enlarged - own, 0);

  after->enlarged = enlarged;
  after->up.low -= room / 2;
  after->up.high += room / 2;
}

static TrammelErrorPanel
panel_at (const TrammelErrorPainting *painting, double x, double y, double width, double height, gboolean after)
{
  const TrammelErrorPlot *plot = painting->plot;
  double span = plot->across.high - plot->across.low, margin = span > 0 ? 0.05 * span : 1;
  double top = 1.3 * painting->line + 6, bottom = 2.4 * painting->line;

  return (TrammelErrorPanel){
    .x = x + painting->left,
    .y = y + top,
    .width = MAX (width - painting->left - TRAMMEL_ERROR_PLOT_EDGE, 1),
    .height = MAX (height - top - bottom, 1),
    .across = { plot->across.low - margin, plot->across.high + margin },
    .up = plot->up[after],
    .after = after,
    .enlarged = 1,
  };
}

static void
place_panels (TrammelErrorPainting *painting, double width, double height)
{
  TrammelErrorPlot *plot = painting->plot;
  gboolean both = painting->look->panels == TRAMMEL_ERROR_PANELS_BOTH;
  gboolean beside = both && width >= SIDE_BY_SIDE_WIDTH && width > 1.9 * height;
  gboolean stacked = both && !beside && height >= STACKED_HEIGHT;
  double half = (width - BETWEEN_PANELS) / 2;

  painting->left
      = TRAMMEL_ERROR_PLOT_EDGE + 8
        + MAX (widest_number (painting, plot->up[FALSE], height), widest_number (painting, plot->up[TRUE], height));
  plot->n_panels = beside || stacked ? 2 : 1;
  if (beside)
    {
      plot->panels[0] = panel_at (painting, 0, 0, half, height, FALSE);
      plot->panels[1] = panel_at (painting, half + BETWEEN_PANELS, 0, half, height, TRUE);
    }
  else if (stacked)
    {
      plot->panels[0] = panel_at (painting, 0, 0, width, height * BEFORE_PART, FALSE);
      plot->panels[1] = panel_at (painting, 0, height * BEFORE_PART, width, height * (1 - BEFORE_PART), TRUE);
    }
  else
    plot->panels[0] = panel_at (painting, 0, 0, width, height, painting->look->panels == TRAMMEL_ERROR_PANELS_AFTER);
  if (plot->n_panels == 2)
    match_after_to_before (&plot->panels[1], &plot->panels[0]);
}

static int
by_place (gconstpointer a, gconstpointer b, gpointer data)
{
  const TrammelErrorPoint *points = data;
  float x = points[*(const guint *)a].x, y = points[*(const guint *)b].x;

  return x < y ? -1 : x > y ? 1 : *(const guint *)a < *(const guint *)b ? -1 : 1;
}

static void
spread_apart (float *shifts, const guint *order, guint n)
{
  double step = n > 1 ? MIN (MARK_APART, MOST_APART / (n - 1)) : 0;

  for (guint i = 0; i < n; i++)
    shifts[order[i]] = (float)((i - (n - 1) / 2.0) * step);
}

/* Readings at (nearly) one place stand side by side, so that each can be seen and clicked. */
static void
shift_marks_at_one_place (TrammelErrorPlot *plot)
{
  guint n = (guint)plot->n_points;

  g_clear_pointer (&plot->shifts, g_free);
  if (n > TRAMMEL_ERROR_PLOT_FEW || n == 0)
    return;
  plot->shifts = g_new0 (float, n);
  g_autofree guint *order = g_new (guint, n);
  for (guint i = 0; i < n; i++)
    order[i] = i;
  g_qsort_with_data (order, (int)n, sizeof *order, by_place, plot->points);
  for (guint start = 0, end; start < n; start = end)
    {
      double place = trammel_error_panel_x (&plot->panels[0], plot->points[order[start]].x);
      for (end = start + 1; end < n; end++)
        if (trammel_error_panel_x (&plot->panels[0], plot->points[order[end]].x) - place > 2)
          break;
      spread_apart (plot->shifts, order + start, end - start);
    }
}

void
trammel_error_lay_out (TrammelErrorPainting *painting, double width, double height)
{
  place_panels (painting, width, height);
  shift_marks_at_one_place (painting->plot);
}
