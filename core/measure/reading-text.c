/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The cells of a reading as text: what a person types, and what was typed but cannot be read. */
#include "measure/reading.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/number.h"
#include "base/quantity.h"

#define LONGEST_FAULTY_TEXT 10000
#define GREATEST_RUN 1000000000

/* `faulty` holds one line per bad cell: the column's key, a tab, the text with \\ and line ends escaped. */

static void
append_escaped (GString *to, const char *text)
{
  for (const char *p = text; *p != '\0'; p++)
    if (*p == '\\')
      g_string_append (to, "\\\\");
    else if (*p == '\n')
      g_string_append (to, "\\n");
    else
      g_string_append_c (to, *p);
}

static char *
unescaped (const char *text, gsize length)
{
  GString *plain = g_string_sized_new (length);

  for (gsize i = 0; i < length; i++)
    {
      if (text[i] != '\\' || i + 1 == length)
        g_string_append_c (plain, text[i]);
      else
        g_string_append_c (plain, text[++i] == 'n' ? '\n' : text[i]);
    }
  return g_string_free (plain, FALSE);
}

/* The escaped text of @column within @faulty, with its length; NULL when the cell is good. */
static const char *
find_faulty (const char *faulty, TrammelColumn column, gsize *length)
{
  const char *key = trammel_column_key (column);
  gsize key_length = strlen (key);

  for (const char *line = faulty; line != NULL && *line != '\0';)
    {
      gsize line_length = strcspn (line, "\n");
      if (line_length > key_length && strncmp (line, key, key_length) == 0 && line[key_length] == '\t')
        {
          *length = line_length - key_length - 1;
          return line + key_length + 1;
        }
      line += line_length + (line[line_length] == '\n');
    }
  return NULL;
}

char *
trammel_reading_faulty (const TrammelReading *reading, TrammelColumn column)
{
  gsize length = 0;

  g_return_val_if_fail (reading != NULL && (guint)column < TRAMMEL_N_COLUMNS, NULL);

  const char *found = find_faulty (reading->faulty, column, &length);
  return found ? unescaped (found, length) : NULL;
}

static char *
clipped_and_valid (const char *text)
{
  g_autofree char *valid = g_utf8_make_valid (text, -1);

  if (g_utf8_strlen (valid, -1) <= LONGEST_FAULTY_TEXT)
    return g_steal_pointer (&valid);
  return g_utf8_substring (valid, 0, LONGEST_FAULTY_TEXT);
}

/* Keeps @text as what stands in the bad cell @column; NULL: the cell is good. */
static void
keep_faulty (TrammelReading *reading, TrammelColumn column, const char *text)
{
  g_autoptr (GString) kept = NULL;

  if (text == NULL && reading->faulty == NULL)
    return;

  kept = g_string_new (NULL);
  for (int i = 0; i < TRAMMEL_N_COLUMNS; i++)
    {
      g_autofree char *cell = NULL;
      if (i != (int)column)
        cell = trammel_reading_faulty (reading, (TrammelColumn)i);
      else if (text != NULL)
        cell = clipped_and_valid (text);
      if (cell == NULL)
        continue;
      if (kept->len > 0)
        g_string_append_c (kept, '\n');
      g_string_append_printf (kept, "%s\t", trammel_column_key ((TrammelColumn)i));
      append_escaped (kept, cell);
    }
  g_clear_pointer (&reading->faulty, g_ref_string_release);
  if (kept->len > 0)
    reading->faulty = g_ref_string_new (kept->str);
}

/* A number that ends in a digit has no unit. */
static gboolean
has_unit (const char *text)
{
  gsize length = strlen (text);

  while (length > 0 && g_ascii_isspace (text[length - 1]))
    length--;
  return length > 0 && !g_ascii_isdigit (text[length - 1]) && text[length - 1] != '.' && text[length - 1] != ',';
}

/* `30 deg`, `0.5 °`: degrees are taken as they stand, so that no digit changes on the way through radians. */
static gboolean
parse_degrees (const char *text, double *out)
{
  static const char *const marks[] = { "deg", "°" };
  double radians;

  for (gsize i = 0; i < G_N_ELEMENTS (marks); i++)
    if (g_str_has_suffix (text, marks[i]))
      {
        gssize length = (gssize)(strlen (text) - strlen (marks[i]));
        if (trammel_number_from_text (text, length, FALSE, out) || trammel_number_from_text (text, length, TRUE, out))
          return TRUE;
      }
  if (!trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_ANGLE, NULL, &radians, NULL))
    return FALSE;
  *out = radians * 180 / G_PI;
  return TRUE;
}

static gboolean
may_be_rotary (const TrammelReading *reading)
{
  return !reading->has_along || strchr ("XYZ", reading->along.axes[0]) == NULL;
}

static gboolean
parse_length (const TrammelReading *reading, const char *text, double unit_factor, double *out, GError **error)
{
  double value;

  if (trammel_number_from_text (text, -1, FALSE, &value) || trammel_number_from_text (text, -1, TRUE, &value))
    {
      *out = value * unit_factor;
      return TRUE;
    }
  if (trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_LENGTH, trammel_unit_base (TRAMMEL_DIMENSION_LENGTH),
                                    &value, error))
    {
      *out = has_unit (text) ? value : value * unit_factor;
      return TRUE;
    }
  if (!may_be_rotary (reading) || !has_unit (text) || !parse_degrees (text, out))
    return FALSE;
  g_clear_error (error);
  return TRUE;
}

static gboolean
parse_u (const TrammelReading *reading, const char *text, double unit_factor, double *out, GError **error)
{
  double value;

  if (!parse_length (reading, text, unit_factor, &value, error))
    return FALSE;
  if (!(value > 0))
    {
      g_autofree char *excerpt = trammel_error_excerpt (text, -1);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found “%s”; an uncertainty of more than 0 is wanted"),
                   excerpt);
      return FALSE;
    }
  *out = value;
  return TRUE;
}

static gboolean
parse_run (const char *text, int *out, GError **error)
{
  double value;

  if (!trammel_number_from_text (text, -1, FALSE, &value) || value != floor (value) || value < 0
      || value > GREATEST_RUN)
    {
      g_autofree char *excerpt = trammel_error_excerpt (text, -1);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE, _ ("found “%s”; the number of a run (1, 2, …) is wanted"),
                   excerpt);
      return FALSE;
    }
  *out = (int)value;
  return TRUE;
}

static void
set_name (GRefString **name, const char *text, gboolean shared)
{
  g_autofree char *valid = text ? g_utf8_make_valid (text, -1) : NULL;

  g_clear_pointer (name, g_ref_string_release);
  if (valid != NULL)
    *name = shared ? g_ref_string_new_intern (valid) : g_ref_string_new (valid);
}

static void
clear_cell (TrammelReading *reading, TrammelColumn column)
{
  switch (column)
    {
    case TRAMMEL_COLUMN_KIND:
      reading->kind = TRAMMEL_READING_OUTSIDE;
      break;
    case TRAMMEL_COLUMN_ALONG:
      reading->has_along = FALSE;
      reading->along = (TrammelDirection){ 0 };
      break;
    case TRAMMEL_COLUMN_NOMINAL:
      reading->nominal = NAN;
      break;
    case TRAMMEL_COLUMN_MEASURED:
      reading->measured = NAN;
      break;
    case TRAMMEL_COLUMN_U:
      reading->u = NAN;
      break;
    case TRAMMEL_COLUMN_INSTRUMENT:
      set_name (&reading->instrument, NULL, TRUE);
      break;
    case TRAMMEL_COLUMN_APPROACH:
      reading->approach = TRAMMEL_APPROACH_NONE;
      break;
    case TRAMMEL_COLUMN_RUN:
      reading->run = 0;
      break;
    case TRAMMEL_COLUMN_SET:
      set_name (&reading->set, NULL, TRUE);
      break;
    case TRAMMEL_COLUMN_NOTE:
    default:
      set_name (&reading->note, NULL, FALSE);
      break;
    }
}

static gboolean
set_kind (TrammelReading *reading, const char *text, GError **error)
{
  TrammelReadingKind kind;

  if (!trammel_reading_kind_parse (text, &kind, error))
    return FALSE;
  reading->kind = (guint8)kind;
  if (kind == TRAMMEL_READING_HEIGHT && !reading->has_along
      && find_faulty (reading->faulty, TRAMMEL_COLUMN_ALONG, &(gsize){ 0 }) == NULL)
    reading->has_along = trammel_direction_parse ("Z", &reading->along, NULL);
  return TRUE;
}

static gboolean
set_approach (TrammelReading *reading, const char *text, GError **error)
{
  TrammelApproach approach;

  if (!trammel_approach_parse (text, &approach, error))
    return FALSE;
  reading->approach = (guint8)approach;
  return TRUE;
}

static gboolean
set_cell (TrammelReading *reading, TrammelColumn column, const char *text, double unit_factor, GError **error)
{
  switch (column)
    {
    case TRAMMEL_COLUMN_KIND:
      return set_kind (reading, text, error);
    case TRAMMEL_COLUMN_ALONG:
      return reading->has_along = trammel_direction_parse (text, &reading->along, error);
    case TRAMMEL_COLUMN_NOMINAL:
      return parse_length (reading, text, unit_factor, &reading->nominal, error);
    case TRAMMEL_COLUMN_MEASURED:
      return parse_length (reading, text, unit_factor, &reading->measured, error);
    case TRAMMEL_COLUMN_U:
      return parse_u (reading, text, unit_factor, &reading->u, error);
    case TRAMMEL_COLUMN_INSTRUMENT:
      set_name (&reading->instrument, text, TRUE);
      return TRUE;
    case TRAMMEL_COLUMN_APPROACH:
      return set_approach (reading, text, error);
    case TRAMMEL_COLUMN_RUN:
      return parse_run (text, &reading->run, error);
    case TRAMMEL_COLUMN_SET:
      set_name (&reading->set, text, TRUE);
      return TRUE;
    case TRAMMEL_COLUMN_NOTE:
    default:
      set_name (&reading->note, text, FALSE);
      return TRUE;
    }
}

gboolean
trammel_reading_set_text (TrammelReading *reading, TrammelColumn column, const char *text, double unit_factor,
                          GError **error)
{
  g_autofree char *stripped = NULL;

  g_return_val_if_fail (reading != NULL && (guint)column < TRAMMEL_N_COLUMNS, FALSE);
  g_return_val_if_fail (text != NULL && unit_factor > 0, FALSE);

  stripped = g_strstrip (g_strdup (text));
  if (*stripped == '\0')
    {
      clear_cell (reading, column);
      keep_faulty (reading, column, NULL);
      return TRUE;
    }
  if (!set_cell (reading, column, stripped, unit_factor, error))
    {
      clear_cell (reading, column);
      keep_faulty (reading, column, text);
      return FALSE;
    }
  keep_faulty (reading, column, NULL);
  return TRUE;
}

/* The shortest decimal that is @value again once multiplied by @unit_factor: 99.71 in stays 99.71. */
static char *
length_text (double value, double unit_factor)
{
  char text[G_ASCII_DTOSTR_BUF_SIZE];
  double in_units = value / unit_factor;

  if (isnan (value))
    return g_strdup ("");
  for (int digits = 15; digits <= 17; digits++)
    {
      char format[8];
      g_snprintf (format, sizeof format, "%%.%dg", digits);
      g_ascii_formatd (text, sizeof text, format, in_units);
      double shorter = g_ascii_strtod (text, NULL);
      if (shorter * unit_factor == value)
        return trammel_number_to_text (shorter);
    }
  return trammel_number_to_text (in_units);
}

char *
trammel_reading_get_text (const TrammelReading *reading, TrammelColumn column, double unit_factor)
{
  g_return_val_if_fail (reading != NULL && (guint)column < TRAMMEL_N_COLUMNS && unit_factor > 0, NULL);

  char *faulty = trammel_reading_faulty (reading, column);
  if (faulty != NULL)
    return faulty;

  switch (column)
    {
    case TRAMMEL_COLUMN_KIND:
      return g_strdup (trammel_reading_kind_key (reading->kind));
    case TRAMMEL_COLUMN_ALONG:
      return reading->has_along ? trammel_direction_to_text (&reading->along) : g_strdup ("");
    case TRAMMEL_COLUMN_NOMINAL:
      return length_text (reading->nominal, unit_factor);
    case TRAMMEL_COLUMN_MEASURED:
      return length_text (reading->measured, unit_factor);
    case TRAMMEL_COLUMN_U:
      return length_text (reading->u, unit_factor);
    case TRAMMEL_COLUMN_INSTRUMENT:
      return g_strdup (reading->instrument ? reading->instrument : "");
    case TRAMMEL_COLUMN_APPROACH:
      return g_strdup (trammel_approach_key (reading->approach));
    case TRAMMEL_COLUMN_RUN:
      return reading->run > 0 ? g_strdup_printf ("%d", reading->run) : g_strdup ("");
    case TRAMMEL_COLUMN_SET:
      return g_strdup (reading->set ? reading->set : "");
    case TRAMMEL_COLUMN_NOTE:
    default:
      return g_strdup (reading->note ? reading->note : "");
    }
}
