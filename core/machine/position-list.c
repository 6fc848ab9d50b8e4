/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/position-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "machine/list-cells.h"

#define LEAST_LIKELY_LINES 3
/* Values go with their targets when they change by at least this share of what the targets do. */
#define GOES_ALONG 0.5

/* --- what the cells hold --- */

/* @unit: of a number that has none. Degrees without a unit are not sent through rad and back. */
static gboolean
read_number (const TrammelPositionListOptions *options, const TrammelUnit *unit, const char *text, double *out,
             GError **error)
{
  const TrammelDimension dimension = options->rotary ? TRAMMEL_DIMENSION_ANGLE : TRAMMEL_DIMENSION_LENGTH;
  const TrammelUnit *radian = trammel_unit_base (TRAMMEL_DIMENSION_ANGLE);
  double bare;

  if (!trammel_quantity_parse_value (text, dimension, unit, out, error))
    return FALSE;
  if (options->rotary)
    {
      const gboolean has_unit = trammel_quantity_parse_value (text, dimension, radian, &bare, NULL) && bare == *out;
      *out = unit == NULL && !has_unit ? bare : *out * 180 / G_PI;
    }
  return TRUE;
}

static gboolean
read_side (const char *text, TrammelApproach *out)
{
  if (strcmp (text, "\xe2\x86\x91") == 0) /* ↑ */
    *out = TRAMMEL_APPROACH_UP;
  else if (strcmp (text, "\xe2\x86\x93") == 0) /* ↓ */
    *out = TRAMMEL_APPROACH_DOWN;
  else if (!trammel_approach_parse (text, out, NULL))
    return FALSE;
  return *out == TRAMMEL_APPROACH_UP || *out == TRAMMEL_APPROACH_DOWN;
}

/* What a header says of the column: its first or last word, or sign. */
static TrammelApproach
side_in_header (const char *header)
{
  g_auto (GStrv) words = g_strsplit_set (header, " _/:()", -1);
  TrammelApproach side;

  for (gsize i = 0; words[i] != NULL; i++)
    if (read_side (words[i], &side))
      return side;
  if (g_str_has_suffix (header, "\xe2\x86\x91") || g_str_has_suffix (header, "+"))
    return TRAMMEL_APPROACH_UP;
  if (g_str_has_suffix (header, "\xe2\x86\x93") || g_str_has_suffix (header, "-"))
    return TRAMMEL_APPROACH_DOWN;
  return TRAMMEL_APPROACH_NONE;
}

/* The unit that a header names last, "value (µm)". A lone m is a name, not metres. */
static const TrammelUnit *
unit_in_header (const TrammelPositionListOptions *options, const char *header)
{
  g_auto (GStrv) words = g_strsplit_set (header, " _/:,()[]", -1);
  const char *last = "";
  gsize n = 0;

  for (gsize i = 0; words[i] != NULL; i++)
    if (*words[i] != '\0')
      {
        last = words[i];
        n++;
      }
  if (n == 0 || (n == 1 && strcmp (last, "m") == 0))
    return NULL;
  return trammel_unit_find (options->rotary ? TRAMMEL_DIMENSION_ANGLE : TRAMMEL_DIMENSION_LENGTH, last);
}

/* --- the reader --- */

typedef struct
{
  double target, value;
  TrammelApproach side;
  int run;
} Place;

typedef struct
{
  const TrammelPositionListOptions *options;
  const TrammelListCells *cells;
  gsize first; /* line of numbers; above it are headers */
  gsize n_columns;
  const TrammelUnit **units; /* of each column */
  GArray *places;            /* of Place */
} Reader;

static gboolean
refuse (const Reader *reader, gsize line, const char *why, GError **error)
{
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("line %zu: %s"),
               trammel_list_cells_number (reader->cells, line), why);
  return FALSE;
}

static gboolean
number_in (const Reader *reader, gsize line, gsize column, double *out, GError **error)
{
  const char *text = trammel_list_cells_get (reader->cells, line, column);
  GError *why = NULL;

  if (*text == '\0')
    return refuse (reader, line, column == 0 ? _ ("the target is missing") : _ ("the value is missing"), error);
  if (read_number (reader->options, reader->units[column], text, out, &why))
    return TRUE;
  g_propagate_prefixed_error (error, why, _ ("line %zu: "), trammel_list_cells_number (reader->cells, line));
  return FALSE;
}

static int
direction (double from, double to)
{
  return (to > from) - (to < from);
}

static int
step_to (const Reader *reader, gsize i)
{
  return i == 0 || i >= reader->places->len ? 0
                                            : direction (g_array_index (reader->places, Place, i - 1).target,
                                                         g_array_index (reader->places, Place, i).target);
}

/* The way in which place @i was approached: 1, −1, or 0 where nothing tells. A step that goes against those before and
 * after it is the way back to the start of the next pass. */
static int
way_to (const Reader *reader, gsize i)
{
  const int here = step_to (reader, i), next = step_to (reader, i + 1), before = i > 0 ? step_to (reader, i - 1) : 0;
  gboolean is_return = here != 0 && next == -here && before == -here;

  return here == 0 || is_return ? next : here;
}

static int
first_way (const Reader *reader)
{
  for (gsize i = 0; i < reader->places->len; i++)
    if (way_to (reader, i) != 0)
      return way_to (reader, i);
  return 0;
}

/* From the order of the targets. A target that is only said again, with no way on from it, goes with the pass that it
 * ends; at the start of the list with the one that it begins. */
static void
tell_sides_by_order (Reader *reader)
{
  int way = first_way (reader);

  for (gsize i = 0; i < reader->places->len; i++)
    {
      const int told = way_to (reader, i);
      way = told != 0 ? told : way;
      g_array_index (reader->places, Place, i).side
          = way > 0 ? TRAMMEL_APPROACH_UP : (way < 0 ? TRAMMEL_APPROACH_DOWN : TRAMMEL_APPROACH_NONE);
    }
}

/* A pass ends where the side changes or the targets go back against it; it is the next run of its side. */
static void
count_runs (Reader *reader)
{
  int runs[] = { 0, 0, 0, 0 }; /* by side */

  for (gsize i = 0; i < reader->places->len; i++)
    {
      Place *place = &g_array_index (reader->places, Place, i);
      const int against = place->side == TRAMMEL_APPROACH_DOWN ? 1 : -1;
      if (i == 0 || place->side != g_array_index (reader->places, Place, i - 1).side || step_to (reader, i) == against)
        runs[place->side]++;
      place->run = runs[place->side];
    }
}

static gboolean
has_column_of_sides (const Reader *reader)
{
  TrammelApproach side;

  if (reader->n_columns != 3)
    return FALSE;
  for (gsize i = reader->first; i < trammel_list_cells_n_lines (reader->cells); i++)
    if (!read_side (trammel_list_cells_get (reader->cells, i, 2), &side))
      return FALSE;
  return TRUE;
}

static gboolean
read_in_order (Reader *reader, gboolean has_sides, GError **error)
{
  for (gsize i = reader->first; i < trammel_list_cells_n_lines (reader->cells); i++)
    {
      Place place = { 0, 0, TRAMMEL_APPROACH_NONE, 0 };
      if (!number_in (reader, i, 0, &place.target, error) || !number_in (reader, i, 1, &place.value, error))
        return FALSE;
      if (has_sides)
        read_side (trammel_list_cells_get (reader->cells, i, 2), &place.side);
      g_array_append_val (reader->places, place);
    }
  if (!has_sides)
    tell_sides_by_order (reader);
  count_runs (reader);
  return TRUE;
}

/* Of the column @column ≥ 1. */
static TrammelApproach
side_of_column (const Reader *reader, gsize column)
{
  const TrammelListPasses passes = reader->options->passes;
  TrammelApproach said = TRAMMEL_APPROACH_NONE;

  for (gsize i = 0; i < reader->first && said == TRAMMEL_APPROACH_NONE; i++)
    said = side_in_header (trammel_list_cells_get (reader->cells, i, column));

  if (passes == TRAMMEL_LIST_PASSES_GUESSED && said != TRAMMEL_APPROACH_NONE)
    return said;
  if (passes == TRAMMEL_LIST_PASSES_IN_TURN
      || (passes == TRAMMEL_LIST_PASSES_GUESSED && (reader->n_columns - 1) % 2 == 0))
    return column % 2 == 1 ? TRAMMEL_APPROACH_UP : TRAMMEL_APPROACH_DOWN;
  return passes == TRAMMEL_LIST_PASSES_DOWN ? TRAMMEL_APPROACH_DOWN : TRAMMEL_APPROACH_UP;
}

static gboolean
read_columns (Reader *reader, GError **error)
{
  int runs[] = { 0, 0, 0, 0 }; /* by side */

  for (gsize column = 1; column < reader->n_columns; column++)
    {
      const TrammelApproach side = side_of_column (reader, column);
      runs[side]++;
      for (gsize i = reader->first; i < trammel_list_cells_n_lines (reader->cells); i++)
        {
          Place place = { 0, 0, side, runs[side] };
          if (*trammel_list_cells_get (reader->cells, i, column) == '\0')
            continue;
          if (!number_in (reader, i, 0, &place.target, error) || !number_in (reader, i, column, &place.value, error))
            return FALSE;
          g_array_append_val (reader->places, place);
        }
    }
  return TRUE;
}

/* --- readings from places --- */

/* What the values are: by the slope of the straight line through them. */
static TrammelListValues
guess_values (const GArray *places)
{
  double mean_target = 0, mean_value = 0, sxx = 0, sxy = 0;

  for (guint i = 0; i < places->len; i++)
    {
      mean_target += g_array_index (places, Place, i).target / places->len;
      mean_value += g_array_index (places, Place, i).value / places->len;
    }
  for (guint i = 0; i < places->len; i++)
    {
      const double x = g_array_index (places, Place, i).target - mean_target;
      sxx += x * x;
      sxy += x * (g_array_index (places, Place, i).value - mean_value);
    }
  if (sxy >= GOES_ALONG * sxx)
    return TRAMMEL_LIST_VALUES_PLACES;
  return sxy <= -GOES_ALONG * sxx ? TRAMMEL_LIST_VALUES_FALLING : TRAMMEL_LIST_VALUES_DEVIATIONS;
}

static double
place_of (const Place *place, TrammelListValues values)
{
  if (values == TRAMMEL_LIST_VALUES_DEVIATIONS)
    return place->target + place->value;
  return values == TRAMMEL_LIST_VALUES_FALLING ? -place->value : place->value;
}

static void
append_reading (GArray *rows, char letter, const Place *place, const char *set, const char *instrument)
{
  const char along[] = { letter, '\0' };
  TrammelReading row;

  trammel_reading_init (&row);
  row.kind = TRAMMEL_READING_POSITION;
  row.has_along = trammel_direction_parse (along, &row.along, NULL);
  row.nominal = place->target;
  row.measured = place->value;
  row.approach = place->side;
  row.run = place->run;
  row.set = set != NULL && *set != '\0' ? g_ref_string_new_intern (set) : NULL;
  row.instrument = instrument != NULL && *instrument != '\0' ? g_ref_string_new_intern (instrument) : NULL;
  g_array_append_val (rows, row);
}

static int
compare_doubles (gconstpointer a, gconstpointer b)
{
  return direction (*(const double *)b, *(const double *)a);
}

static void
describe_targets (const GArray *places, TrammelPositionList *out)
{
  g_autoptr (GArray) targets = g_array_sized_new (FALSE, FALSE, sizeof (double), places->len);

  for (guint i = 0; i < places->len; i++)
    g_array_append_val (targets, g_array_index (places, Place, i).target);
  g_array_sort (targets, compare_doubles);
  out->low = g_array_index (targets, double, 0);
  out->high = g_array_index (targets, double, targets->len - 1);
  out->n_targets = 1;
  for (guint i = 1; i < targets->len; i++)
    out->n_targets += g_array_index (targets, double, i) > g_array_index (targets, double, i - 1);
}

static void
make_readings (const Reader *reader, TrammelPositionList *out)
{
  const TrammelPositionListOptions *options = reader->options;
  GArray *rows = trammel_reading_array_new (reader->places->len);

  out->values = options->values == TRAMMEL_LIST_VALUES_GUESSED ? guess_values (reader->places) : options->values;
  out->least_deviation = HUGE_VAL;
  out->greatest_deviation = -HUGE_VAL;
  for (guint i = 0; i < reader->places->len; i++)
    {
      Place place = g_array_index (reader->places, Place, i);
      place.value = place_of (&place, out->values);
      out->least_deviation = fmin (out->least_deviation, place.value - place.target);
      out->greatest_deviation = fmax (out->greatest_deviation, place.value - place.target);
      append_reading (rows, options->letter, &place, options->set, options->instrument);
      out->n_up += place.side == TRAMMEL_APPROACH_UP;
      out->n_down += place.side == TRAMMEL_APPROACH_DOWN;
      out->n_unsaid += place.side == TRAMMEL_APPROACH_NONE;
      out->n_runs = MAX (out->n_runs, place.run);
    }
  describe_targets (reader->places, out);
  out->readings = trammel_readings_take (rows);
}

static gboolean
has_number (const TrammelListCells *cells, gsize line)
{
  for (gsize column = 0; column < trammel_list_cells_length (cells, line); column++)
    if (trammel_list_cells_begins_with_number (trammel_list_cells_get (cells, line, column)))
      return TRUE;
  return FALSE;
}

/* A first line that does not begin with a number, and lines after it that have none. */
static gsize
count_headers (const TrammelListCells *cells)
{
  const gsize n = trammel_list_cells_n_lines (cells);
  gsize headers = n > 0 && !trammel_list_cells_begins_with_number (trammel_list_cells_get (cells, 0, 0)) ? 1 : 0;

  while (headers > 0 && headers < n && !has_number (cells, headers))
    headers++;
  return headers;
}

/* Words with blanks between cannot be told to columns unless there are as many. */
static gboolean
take_units_of_header (Reader *reader, gsize line, GError **error)
{
  const gsize n = trammel_list_cells_length (reader->cells, line);
  const gboolean in_columns = reader->cells->separator != ' ' || n == reader->n_columns;

  for (gsize column = 0; column < n; column++)
    {
      const TrammelUnit *unit = unit_in_header (reader->options, trammel_list_cells_get (reader->cells, line, column));
      if (unit != NULL && !in_columns)
        return refuse (reader, line,
                       _ ("a unit is named, but not clearly of which column; write it behind each number, or put tabs "
                          "or semicolons between the columns"),
                       error);
      if (unit != NULL && column < reader->n_columns)
        reader->units[column] = unit;
    }
  return TRUE;
}

static gboolean
count_columns (Reader *reader, GError **error)
{
  for (gsize i = 0; i < trammel_list_cells_n_lines (reader->cells); i++)
    {
      const gsize length = trammel_list_cells_length (reader->cells, i);
      if (length >= TRAMMEL_LIST_MOST_COLUMNS + 1)
        return refuse (reader, i, _ ("too many columns; a target and at most 1000 values are wanted"), error);
      reader->n_columns = i < reader->first ? 0 : MAX (reader->n_columns, length);
    }
  return reader->n_columns >= 2
         || refuse (reader, reader->first, _ ("found one column; a target and a value on each line are wanted"), error);
}

static gboolean
begin (Reader *reader, GError **error)
{
  reader->first = count_headers (reader->cells);
  if (trammel_list_cells_n_lines (reader->cells) <= reader->first)
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
                           _ ("there is nothing in the list; lines with a target and what the instrument shows there "
                              "are wanted"));
      return FALSE;
    }
  if (!count_columns (reader, error))
    return FALSE;
  reader->units = g_new0 (const TrammelUnit *, reader->n_columns);
  for (gsize column = 0; column < reader->n_columns; column++)
    reader->units[column] = reader->options->rotary ? NULL : reader->options->unit;
  for (gsize line = 0; line < reader->first; line++)
    if (!take_units_of_header (reader, line, error))
      return FALSE;
  return TRUE;
}

static gboolean
read_places (Reader *reader, gboolean *in_columns, GError **error)
{
  if (!begin (reader, error))
    return FALSE;
  const gboolean has_sides = has_column_of_sides (reader);
  *in_columns = reader->n_columns > 2 && !has_sides;
  if (!(*in_columns ? read_columns (reader, error) : read_in_order (reader, has_sides, error)))
    return FALSE;
  return reader->places->len > 0 || refuse (reader, reader->first, _ ("the value is missing"), error);
}

gboolean
trammel_position_list_read (const char *text, const TrammelPositionListOptions *options, TrammelPositionList *out,
                            GError **error)
{
  g_return_val_if_fail (text != NULL && options != NULL && g_ascii_isupper (options->letter) && out != NULL, FALSE);

  g_auto (TrammelListCells) cells = { NULL };
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (Place));
  Reader reader = { options, &cells, 0, 0, NULL, places };
  gboolean in_columns = FALSE;

  trammel_list_cells_read (text, &cells);
  const gboolean done = read_places (&reader, &in_columns, error);
  g_free (reader.units);
  if (!done)
    return FALSE;
  *out = (TrammelPositionList){ .in_columns = in_columns };
  make_readings (&reader, out);
  return TRUE;
}

void
trammel_position_list_clear (TrammelPositionList *list)
{
  g_return_if_fail (list != NULL);

  g_clear_pointer (&list->readings, trammel_readings_unref);
}

static gboolean
is_likely_along (const char *text, gboolean rotary)
{
  const TrammelPositionListOptions options = { .letter = 'X', .rotary = rotary };
  g_auto (TrammelPositionList) list = { NULL };

  return trammel_position_list_read (text, &options, &list, NULL)
         && trammel_readings_length (list.readings) >= LEAST_LIKELY_LINES;
}

gboolean
trammel_position_list_is_likely (const char *text)
{
  g_return_val_if_fail (text != NULL, FALSE);

  return is_likely_along (text, FALSE) || is_likely_along (text, TRUE);
}

TrammelReadings *
trammel_position_plan (char letter, double low, double high, gsize n_targets, int n_runs, gboolean both_ways,
                       const char *set, const char *instrument)
{
  g_return_val_if_fail (g_ascii_isupper (letter) && isfinite (low) && isfinite (high), NULL);
  g_return_val_if_fail (n_targets >= 2 && n_runs >= 1, NULL);

  const gsize passes = both_ways ? 2 : 1;
  if (n_targets > TRAMMEL_MAX_READINGS / passes / (gsize)n_runs)
    return NULL;
  GArray *rows = trammel_reading_array_new (n_targets * passes * (gsize)n_runs);
  for (int run = 1; run <= n_runs; run++)
    for (gsize i = 0; i < passes * n_targets; i++)
      {
        const gboolean down = i >= n_targets;
        const gsize k = down ? 2 * n_targets - 1 - i : i;
        const Place place = { low + (high - low) * (double)k / (double)(n_targets - 1), NAN,
                              down ? TRAMMEL_APPROACH_DOWN : TRAMMEL_APPROACH_UP, run };
        append_reading (rows, letter, &place, set, instrument);
      }
  return trammel_readings_take (rows);
}
