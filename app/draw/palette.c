/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/palette.h"

#include <math.h>

#define READABLE_CONTRAST 4.5
#define VISIBLE_CONTRAST 3.0

#define COLOR(hex)                                                                                                     \
  {                                                                                                                    \
    ((hex) >> 16 & 0xff) / 255.0, ((hex) >> 8 & 0xff) / 255.0, ((hex)&0xff) / 255.0                                    \
  }

static const TrammelPalette light = {
  .dark = FALSE,
  .ground = COLOR (0xfcfcfb),
  .ink = COLOR (0x23282d),
  .faint = COLOR (0x97a0a8),
  .metal = COLOR (0xd8dee4),
  .metal_edge = COLOR (0x55606a),
  .mark = COLOR (0xe69f00),
  .trouble = COLOR (0xb3122a),
};

static const TrammelPalette dark = {
  .dark = TRUE,
  .ground = COLOR (0x1e2023),
  .ink = COLOR (0xe8eaec),
  .faint = COLOR (0x707a83),
  .metal = COLOR (0x474f57),
  .metal_edge = COLOR (0xa9b3bc),
  .mark = COLOR (0xe69f00),
  .trouble = COLOR (0xff8a80),
};

/* Okabe–Ito, as published. */
static const TrammelColor blue = COLOR (0x0072b2);
static const TrammelColor vermilion = COLOR (0xd55e00);
static const TrammelColor green = COLOR (0x009e73);
static const TrammelColor purple = COLOR (0xcc79a7);
static const TrammelColor sky_blue = COLOR (0x56b4e9);
static const TrammelColor yellow = COLOR (0xf0e442);

const TrammelPalette *
trammel_palette (gboolean is_dark)
{
  return is_dark ? &dark : &light;
}

static double
linear_channel (double c)
{
  return c <= 0.04045 ? c / 12.92 : pow ((c + 0.055) / 1.055, 2.4);
}

/* Relative luminance and contrast ratio: W3C, Web Content Accessibility Guidelines 2.1. */
static double
luminance (TrammelColor color)
{
  return 0.2126 * linear_channel (color.r) + 0.7152 * linear_channel (color.g) + 0.0722 * linear_channel (color.b);
}

static double
contrast (TrammelColor a, TrammelColor b)
{
  double high = MAX (luminance (a), luminance (b)), low = MIN (luminance (a), luminance (b));
  return (high + 0.05) / (low + 0.05);
}

static TrammelColor
mixed (TrammelColor from, TrammelColor to, double part)
{
  return (TrammelColor){ from.r + (to.r - from.r) * part, from.g + (to.g - from.g) * part,
                         from.b + (to.b - from.b) * part };
}

static TrammelColor
with_contrast (TrammelColor color, TrammelColor ground, TrammelColor towards, double wanted)
{
  for (int step = 0; step <= 50; step++)
    {
      TrammelColor tried = mixed (color, towards, step / 50.0);
      if (contrast (tried, ground) >= wanted)
        return tried;
    }
  return towards;
}

static TrammelColor
published_color (char letter, gboolean *needs_help_on_light)
{
  *needs_help_on_light = FALSE;
  switch (letter)
    {
    case 'X':
      return blue;
    case 'Y':
      return vermilion;
    case 'Z':
      return green;
    case 'E':
    case 'F':
    case 'H':
      return purple;
    default:
      *needs_help_on_light = TRUE;
      return letter % 2 ? sky_blue : yellow;
    }
}

TrammelColor
trammel_palette_axis (const TrammelPalette *palette, char letter)
{
  static const TrammelColor white = { 1, 1, 1 }, black = { 0, 0, 0 };
  gboolean needs_help_on_light;

  g_return_val_if_fail (palette != NULL, blue);
  TrammelColor color = published_color (g_ascii_toupper (letter), &needs_help_on_light);
  if (palette->dark)
    return with_contrast (color, palette->ground, white, READABLE_CONTRAST);
  if (needs_help_on_light)
    return with_contrast (color, palette->ground, black, VISIBLE_CONTRAST);
  return color;
}

void
trammel_color_set (cairo_t *cr, TrammelColor color, double alpha)
{
  cairo_set_source_rgba (cr, color.r, color.g, color.b, alpha);
}
