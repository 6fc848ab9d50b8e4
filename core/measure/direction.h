/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/**
 * TrammelDirection:
 *
 * What a reading is measured along. A plain value:
 *   one axis            `X`, `E`, `A`: axes[0] = letter, signs[0] = 1
 *   a diagonal          `X+Y`, `X-Y`, `X+Z`, `X+Y+Z`: 2 or 3 letters of X, Y, Z, signs ±1 (the first always +1),
 *                       in the order X, Y, Z
 *   an angle in a plane `XY@30`: two letters of X, Y, Z; angle_degrees from the first towards the second
 */
typedef struct
{
  char axes[3]; /* '\0' where there is none */
  gint8 signs[3];
  gboolean in_plane; /* angle_degrees counts */
  double angle_degrees;
} TrammelDirection;

/* Reads the text forms above; lower case is accepted, spaces ignored. Errors: TRAMMEL_ERROR_PARSE. */
gboolean trammel_direction_parse (const char *text, TrammelDirection *out, GError **error);
/* (transfer full): as trammel_direction_parse() reads it. */
char *trammel_direction_to_text (const TrammelDirection *direction);
gboolean trammel_direction_equal (const TrammelDirection *a, const TrammelDirection *b);
/* One axis only? Then axes[0] is its letter. */
gboolean trammel_direction_is_single (const TrammelDirection *direction);
gboolean trammel_direction_touches (const TrammelDirection *direction, char axis);
/* Unit vector in X, Y, Z (all zero for another single axis). */
void trammel_direction_vector (const TrammelDirection *direction, double vector[3]);

G_END_DECLS
