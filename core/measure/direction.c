/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/direction.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/number.h"

static const char spatial_axes[] = "XYZ";

static int
spatial_index (char axis)
{
  const char *found = axis != '\0' ? strchr (spatial_axes, axis) : NULL;
  return found ? (int)(found - spatial_axes) : -1;
}

static gboolean
refuse (const char *text, GError **error)
{
  g_autofree char *excerpt = trammel_error_excerpt (text, -1);

  g_set_error (
      error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
      _ ("found “%s”; a direction is wanted: an axis (X), a diagonal (X+Y, X-Y) or an angle in a plane (XY@30)"),
      excerpt);
  return FALSE;
}

/* Upper case, without spaces, a true minus as the ASCII one; NULL when it is too long to be a direction. */
static char *
squeeze (const char *text)
{
  g_autoptr (GString) squeezed = g_string_new (NULL);

  if (strlen (text) > 64 || !g_utf8_validate (text, -1, NULL))
    return NULL;
  for (const char *p = text; *p != '\0'; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);
      if (g_unichar_isspace (c))
        continue;
      g_string_append_unichar (squeezed, c == 0x2212 ? '-' : g_unichar_toupper (c));
    }
  return g_string_free (g_steal_pointer (&squeezed), FALSE);
}

static gboolean
parse_angle (const char *text, double *degrees)
{
  gsize length = strlen (text);

  if (g_str_has_suffix (text, "°"))
    length -= strlen ("°");
  else if (g_str_has_suffix (text, "DEG"))
    length -= strlen ("DEG");
  if (!trammel_number_from_text (text, (gssize)length, FALSE, degrees)
      && !trammel_number_from_text (text, (gssize)length, TRUE, degrees))
    return FALSE;
  return fabs (*degrees) <= 360;
}

/* `XY@30` */
static gboolean
parse_in_plane (const char *text, TrammelDirection *direction)
{
  if (spatial_index (text[0]) < 0 || spatial_index (text[1]) < 0 || text[0] == text[1] || text[2] != '@')
    return FALSE;
  direction->axes[0] = text[0];
  direction->axes[1] = text[1];
  direction->signs[0] = direction->signs[1] = 1;
  direction->in_plane = TRUE;
  return parse_angle (text + 3, &direction->angle_degrees);
}

/* `X+Y`, `Y-X`, `X+Y+Z`: stored in the order X, Y, Z with the first sign +, since a length has no sense of way. */
static gboolean
parse_diagonal (const char *text, TrammelDirection *direction)
{
  gint8 signs[3] = { 0, 0, 0 };
  gint8 first = 0;
  int n = 0;

  for (const char *p = text; *p != '\0'; p++)
    {
      gint8 sign = *p == '-' ? -1 : 1;
      if (*p == '+' || *p == '-')
        p++;
      else if (p != text)
        return FALSE;
      int axis = spatial_index (*p);
      if (axis < 0 || signs[axis] != 0)
        return FALSE;
      signs[axis] = sign;
    }

  for (int axis = 0; axis < 3; axis++)
    {
      if (signs[axis] == 0)
        continue;
      if (first == 0)
        first = signs[axis];
      direction->axes[n] = spatial_axes[axis];
      direction->signs[n++] = signs[axis] * first;
    }
  return n >= 2;
}

gboolean
trammel_direction_parse (const char *text, TrammelDirection *out, GError **error)
{
  TrammelDirection direction = { 0 };
  g_autofree char *squeezed = NULL;

  g_return_val_if_fail (text != NULL && out != NULL, FALSE);

  squeezed = squeeze (text);
  if (squeezed == NULL || squeezed[0] == '\0')
    return refuse (text, error);

  if (squeezed[1] == '\0')
    {
      if (squeezed[0] < 'A' || squeezed[0] > 'Z')
        return refuse (text, error);
      direction.axes[0] = squeezed[0];
      direction.signs[0] = 1;
    }
  else if (strchr (squeezed, '@') ? !parse_in_plane (squeezed, &direction) : !parse_diagonal (squeezed, &direction))
    return refuse (text, error);

  *out = direction;
  return TRUE;
}

char *
trammel_direction_to_text (const TrammelDirection *direction)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_return_val_if_fail (direction != NULL, NULL);

  if (direction->in_plane)
    {
      g_autofree char *angle = trammel_number_to_text (direction->angle_degrees);
      return g_strdup_printf ("%c%c@%s", direction->axes[0], direction->axes[1], angle);
    }
  for (int i = 0; i < 3 && direction->axes[i] != '\0'; i++)
    {
      if (i > 0)
        g_string_append_c (text, direction->signs[i] < 0 ? '-' : '+');
      g_string_append_c (text, direction->axes[i]);
    }
  return g_string_free (g_steal_pointer (&text), FALSE);
}

gboolean
trammel_direction_equal (const TrammelDirection *a, const TrammelDirection *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  return memcmp (a->axes, b->axes, sizeof a->axes) == 0 && memcmp (a->signs, b->signs, sizeof a->signs) == 0
         && !a->in_plane == !b->in_plane && (!a->in_plane || a->angle_degrees == b->angle_degrees);
}

gboolean
trammel_direction_is_single (const TrammelDirection *direction)
{
  g_return_val_if_fail (direction != NULL, FALSE);

  return direction->axes[0] != '\0' && direction->axes[1] == '\0';
}

gboolean
trammel_direction_touches (const TrammelDirection *direction, char axis)
{
  double vector[3];
  int index = spatial_index (axis);

  g_return_val_if_fail (direction != NULL, FALSE);

  if (axis == '\0')
    return FALSE;
  if (trammel_direction_is_single (direction))
    return direction->axes[0] == axis;
  if (index < 0)
    return FALSE;
  trammel_direction_vector (direction, vector);
  return vector[index] != 0;
}

/* Exact at multiples of 90°, so that `XY@90` is Y and touches no other axis. */
static void
unit_circle (double degrees, double *cosine, double *sine)
{
  double reduced = fmod (degrees, 360);
  double quarters = reduced / 90;
  static const int cosines[] = { 1, 0, -1, 0 };

  if (quarters == floor (quarters))
    {
      int quarter = ((int)quarters + 4) % 4;
      *cosine = cosines[quarter];
      *sine = cosines[(quarter + 3) % 4];
      return;
    }
  *cosine = cos (reduced * G_PI / 180);
  *sine = sin (reduced * G_PI / 180);
}

void
trammel_direction_vector (const TrammelDirection *direction, double vector[3])
{
  int n = 0;

  g_return_if_fail (direction != NULL && vector != NULL);

  vector[0] = vector[1] = vector[2] = 0;
  if (spatial_index (direction->axes[0]) < 0)
    return;
  if (direction->in_plane)
    {
      unit_circle (direction->angle_degrees, &vector[spatial_index (direction->axes[0])],
                   &vector[spatial_index (direction->axes[1])]);
      return;
    }
  while (n < 3 && direction->axes[n] != '\0')
    n++;
  for (int i = 0; i < n; i++)
    vector[spatial_index (direction->axes[i])] = direction->signs[i] / sqrt (n);
}
