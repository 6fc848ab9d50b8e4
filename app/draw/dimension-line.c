/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/dimension-line.h"

#include <math.h>

#include "draw/label.h"

#define ARROW 10.0
#define ARROW_HALF_WIDTH 0.19 /* of its length: a head of about 21° */
#define GAP 2.0               /* between point and extension line */
#define OVERSHOOT 5.0         /* of the extension line beyond the dimension line */
#define TAIL 12.0             /* of an arrow from outside */
#define TEXT_GAP 4.0          /* between the line's end and a text beyond it */

/* The ends of the dimension line itself. */
typedef struct
{
  double x0, y0, x1, y1, length;
  double ux, uy; /* along */
  double nx, ny; /* to the left of it: the way of the offset */
} Ends;

static Ends
ends_of (const TrammelDimensionLine *line)
{
  double dx = line->x1 - line->x0, dy = line->y1 - line->y0;
  Ends ends = { .length = hypot (dx, dy), .ux = 1 };

  if (ends.length > 0)
    {
      ends.ux = dx / ends.length;
      ends.uy = dy / ends.length;
    }
  ends.nx = ends.uy;
  ends.ny = -ends.ux;
  ends.x0 = line->x0 + ends.nx * line->offset;
  ends.y0 = line->y0 + ends.ny * line->offset;
  ends.x1 = line->x1 + ends.nx * line->offset;
  ends.y1 = line->y1 + ends.ny * line->offset;
  return ends;
}

static gboolean
takes_arrows_from_outside (const Ends *ends)
{
  return ends->length < 2.6 * ARROW;
}

void
trammel_dimension_arrow (cairo_t *cr, double x, double y, double angle, double size)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_rotate (cr, angle);
  cairo_move_to (cr, 0, 0);
  cairo_line_to (cr, -size, -ARROW_HALF_WIDTH * size);
  cairo_line_to (cr, -size, ARROW_HALF_WIDTH * size);
  cairo_close_path (cr);
  cairo_restore (cr);
  cairo_fill (cr);
}

static void
add_extension (cairo_t *cr, double x, double y, const Ends *ends, double offset)
{
  double way = offset < 0 ? -1 : 1;

  if (fabs (offset) <= GAP)
    return;
  cairo_move_to (cr, x + ends->nx * GAP * way, y + ends->ny * GAP * way);
  cairo_line_to (cr, x + ends->nx * (offset + OVERSHOOT * way), y + ends->ny * (offset + OVERSHOOT * way));
}

static void
paint_lines (cairo_t *cr, const TrammelDimensionLine *line, const Ends *ends, gboolean from_outside)
{
  double tail = from_outside ? ARROW + TAIL : 0;

  add_extension (cr, line->x0, line->y0, ends, line->offset);
  add_extension (cr, line->x1, line->y1, ends, line->offset);
  cairo_move_to (cr, ends->x0 - ends->ux * tail, ends->y0 - ends->uy * tail);
  cairo_line_to (cr, ends->x1 + ends->ux * tail, ends->y1 + ends->uy * tail);
  cairo_set_line_width (cr, line->strong ? 1.6 : 1);
  cairo_stroke (cr);
}

static void
paint_arrows (cairo_t *cr, const TrammelDimensionLine *line, const Ends *ends, gboolean from_outside)
{
  double angle = atan2 (ends->uy, ends->ux), size = line->strong ? ARROW + 2 : ARROW - 2;

  trammel_dimension_arrow (cr, ends->x0, ends->y0, from_outside ? angle : angle + G_PI, size);
  trammel_dimension_arrow (cr, ends->x1, ends->y1, from_outside ? angle + G_PI : angle, size);
}

/* To be read from below or from the right: never upside down, upright lines from the right. */
static double
readable_angle (double angle)
{
  while (angle >= G_PI_2 - 1e-9)
    angle -= G_PI;
  while (angle < -G_PI_2 - 1e-9)
    angle += G_PI;
  return angle;
}

/* Beyond the second end of a short level line, and beyond the tail of its arrow. */
static void
paint_text_beyond_end (cairo_t *cr, const TrammelDimensionLine *line, const Ends *ends, TrammelLabel label)
{
  const double tail = takes_arrows_from_outside (ends) ? ARROW + TAIL : 0;

  label.xalign = ends->ux < 0 ? 1 : 0;
  label.yalign = 0.5;
  trammel_label_paint (cr, &label, line->text, ends->x1 + (ends->ux < 0 ? -1 : 1) * (tail + TEXT_GAP), ends->y1);
}

/* Over the upper tail of a short upright line. */
static void
paint_text_over_tail (cairo_t *cr, const TrammelDimensionLine *line, const Ends *ends, TrammelLabel label)
{
  label.xalign = 0.5;
  label.yalign = 1;
  trammel_label_paint (cr, &label, line->text, ends->x0, MIN (ends->y0, ends->y1) - ARROW - TAIL - 1);
}

static void
paint_text (cairo_t *cr, const TrammelDimensionLine *line, const Ends *ends)
{
  TrammelLabel label = { .font = line->font, .bold = line->strong, .halo = line->ground };
  double at = line->text_at > 0 ? line->text_at : 0.5, width, height;
  double x = ends->x0 + (ends->x1 - ends->x0) * at, y = ends->y0 + (ends->y1 - ends->y0) * at;

  label.scale = line->strong ? 1.05 : 0.9;
  trammel_label_size (cr, &label, line->text, &width, &height);
  if (width > ends->length - ARROW && takes_arrows_from_outside (ends) && fabs (ends->uy) > fabs (ends->ux))
    {
      paint_text_over_tail (cr, line, ends, label);
      return;
    }
  if (width > ends->length - ARROW && fabs (ends->uy) < 0.1)
    {
      paint_text_beyond_end (cr, line, ends, label);
      return;
    }
  if (width > ends->length - ARROW)
    {
      label.yalign = 0.5;
      trammel_label_paint (cr, &label, line->text, x + 9, y);
      return;
    }
  label.angle = readable_angle (atan2 (ends->uy, ends->ux));
  label.xalign = 0.5;
  label.yalign = 1;
  trammel_label_paint (cr, &label, line->text, x + 2 * sin (label.angle), y - 2 * cos (label.angle));
}

void
trammel_dimension_line_paint (cairo_t *cr, const TrammelDimensionLine *line)
{
  g_return_if_fail (cr != NULL && line != NULL);

  Ends ends = ends_of (line);
  gboolean from_outside = takes_arrows_from_outside (&ends);

  cairo_save (cr);
  trammel_color_set (cr, line->color, line->alpha > 0 ? line->alpha : 1);
  paint_lines (cr, line, &ends, from_outside);
  paint_arrows (cr, line, &ends, from_outside);
  if (line->text)
    paint_text (cr, line, &ends);
  cairo_restore (cr);
}

double
trammel_dimension_line_distance (const TrammelDimensionLine *line, double x, double y)
{
  g_return_val_if_fail (line != NULL, INFINITY);

  Ends ends = ends_of (line);
  double along = (x - ends.x0) * ends.ux + (y - ends.y0) * ends.uy;

  along = CLAMP (along, 0, ends.length);
  return hypot (ends.x0 + along * ends.ux - x, ends.y0 + along * ends.uy - y);
}
