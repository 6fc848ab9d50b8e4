/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n-lib.h>
#include <math.h>

#include "draw/dimension-line.h"
#include "draw/display.h"
#include "draw/label.h"
#include "draw/piece-drawing-private.h"

#define JAW 11.0

void
trammel_piece_jaw (cairo_t *cr, double x, double y, double angle, const TrammelPalette *palette)
{
  cairo_save (cr);
  cairo_translate (cr, x, y);
  cairo_rotate (cr, angle);
  cairo_move_to (cr, 0, 0);
  cairo_line_to (cr, -JAW, -JAW * 0.6);
  cairo_line_to (cr, -JAW, JAW * 0.6);
  cairo_close_path (cr);
  trammel_color_set (cr, palette->mark, 1);
  cairo_fill_preserve (cr);
  trammel_color_set (cr, palette->ink, 1);
  cairo_set_line_width (cr, 1);
  cairo_stroke (cr);
  cairo_restore (cr);
}

static void
paint_axis_arrow (cairo_t *cr, double x, double y, double angle, char letter, const TrammelPalette *palette,
                  const char *font)
{
  const double length = 20;
  const char text[2] = { letter, '\0' };
  double ux = cos (angle), uy = sin (angle);
  TrammelLabel label = { .font = font, .scale = 0.9, .bold = TRUE, .xalign = 0.5, .yalign = 0.5 };

  trammel_color_set (cr, trammel_palette_axis (palette, letter), 1);
  cairo_set_line_width (cr, 1.8);
  cairo_move_to (cr, x, y);
  cairo_line_to (cr, x + ux * (length - 5), y + uy * (length - 5));
  cairo_stroke (cr);
  trammel_dimension_arrow (cr, x + ux * length, y + uy * length, angle, 8);
  trammel_label_paint (cr, &label, text, x + ux * (length + 8), y + uy * (length + 8));
}

void
trammel_piece_axes (cairo_t *cr, double x, double y, const TrammelPalette *palette, const char *font)
{
  paint_axis_arrow (cr, x, y, 0, 'X', palette, font);
  paint_axis_arrow (cr, x, y, -G_PI_2, 'Y', palette, font);
}

char *
trammel_piece_length_text (double mm, const TrammelUnit *unit, gboolean with_unit)
{
  double factor = unit ? trammel_unit_factor (unit) : 1;
  double rounding = factor > 1 ? 1e4 : 1e3;
  g_autofree char *number = trammel_display_significant (round (mm / factor * rounding) / rounding, 9);

  if (!with_unit)
    return g_steal_pointer (&number);
  return unit ? g_strdup_printf ("%s %s", number, trammel_unit_symbol (unit)) : g_strconcat (number, "°", NULL);
}

char *
trammel_piece_reading_to_words (const TrammelReading *reading, const TrammelUnit *unit)
{
  g_return_val_if_fail (reading != NULL, NULL);

  const char *kind = trammel_reading_kind_label (reading->kind);
  if (!reading->has_along)
    return g_strdup (kind);
  g_autofree char *along = trammel_direction_to_text (&reading->along);
  if (isnan (reading->nominal))
    return g_strdup_printf (_ ("%s along %s"), kind, along);
  g_autofree char *length = trammel_piece_length_text (reading->nominal, unit, TRUE);
  return g_strdup_printf (_ ("%s along %s, %s"), kind, along, length);
}

void
trammel_piece_paint (cairo_t *cr, double width, double height, const TrammelTestPiece *piece,
                     const TrammelPalette *palette, const TrammelPieceLook *look)
{
  g_return_if_fail (cr != NULL && palette != NULL && look != NULL);

  if (!look->feature && look->reading && look->reading->has_along)
    {
      trammel_piece_sketch (cr, width, height, palette, look);
      return;
    }
  if (!piece)
    return;
  if (trammel_test_piece_ladder (piece))
    trammel_ladder_drawing_paint (cr, width, height, trammel_test_piece_ladder (piece), palette, look);
  else
    trammel_square_drawing_paint (cr, width, height, trammel_test_piece_square (piece), palette, look);
}

const TrammelFeature *
trammel_piece_feature_at (const TrammelTestPiece *piece, double width, double height, double x, double y)
{
  g_return_val_if_fail (piece != NULL, NULL);

  if (trammel_test_piece_ladder (piece))
    return trammel_ladder_drawing_feature_at (trammel_test_piece_ladder (piece), width, height, x, y);
  return trammel_square_drawing_feature_at (trammel_test_piece_square (piece), width, height, x, y);
}
