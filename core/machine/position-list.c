/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/position-list.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"

#define LEAST_LIKELY_LINES 3
#define MOST_COLUMNS 1001

/* The list as lines of cells. */
typedef struct
{
  GPtrArray *lines; /* of GPtrArray of texts */
  GArray *numbers;  /* of gsize: where each line was, from 1 */
} Cells;

static void
cells_clear (Cells *cells)
{
  g_clear_pointer (&cells->lines, g_ptr_array_unref);
  g_clear_pointer (&cells->numbers, g_array_unref);
}
G_DEFINE_AUTO_CLEANUP_CLEAR_FUNC (Cells, cells_clear)

static GPtrArray *
line_at (const Cells *cells, gsize i)
{
  return g_ptr_array_index (cells->lines, i);
}

static const char *
cell_at (const Cells *cells, gsize i, gsize column)
{
  const GPtrArray *line = line_at (cells, i);
  return column < line->len ? g_ptr_array_index (line, column) : "";
}

/* --- lines and cells --- */

/* (transfer full): one kind of line end, of minus and of blank. */
static char **
lines_of (const char *text)
{
  GString *plain = g_string_new (text);
  g_string_replace (plain, "\r\n", "\n", 0);
  g_string_replace (plain, "\r", "\n", 0);
  g_string_replace (plain, "\xe2\x88\x92", "-", 0); /* minus */
  g_string_replace (plain, "\xc2\xa0", " ", 0);     /* no-break space */
  char **lines = g_strsplit (plain->str, "\n", -1);
  g_string_free (plain, TRUE);
  return lines;
}

static gboolean
is_comment (const char *line)
{
  return *line == '\0' || *line == '#';
}

/* A comma that cannot be a decimal one. */
static gboolean
has_bare_comma (const char *line)
{
  for (const char *comma = strchr (line, ','); comma != NULL; comma = strchr (comma + 1, ','))
    if (comma == line || !g_ascii_isdigit (comma[-1]) || !g_ascii_isdigit (comma[1]))
      return TRUE;
  return FALSE;
}

/* What is between the cells: a tab, a semicolon, a comma, or ' ' for blanks. A comma between digits is a decimal one
 * where there are blanks, or no points and only one of it on a line. */
static char
separator_of (char **lines)
{
  gboolean blank = FALSE, bare = FALSE, many = FALSE, point = FALSE, comma = FALSE, semicolon = FALSE;

  for (gsize i = 0; lines[i] != NULL; i++)
    {
      const char *line = g_strstrip (lines[i]), *first = strchr (line, ',');
      if (is_comment (line))
        continue;
      if (strchr (line, '\t') != NULL)
        return '\t';
      semicolon |= strchr (line, ';') != NULL;
      blank |= strchr (line, ' ') != NULL;
      point |= strchr (line, '.') != NULL;
      comma |= first != NULL;
      bare |= has_bare_comma (line);
      many |= first != NULL && strchr (first + 1, ',') != NULL;
    }
  if (semicolon)
    return ';';
  return bare || (comma && !blank && (many || point)) ? ',' : ' ';
}

static gboolean
is_unit (const char *word)
{
  return trammel_unit_find (TRAMMEL_DIMENSION_LENGTH, word) != NULL
         || trammel_unit_find (TRAMMEL_DIMENSION_ANGLE, word) != NULL;
}

/* Between blanks, a unit goes with the number before it. */
static void
append_cell (GPtrArray *line, const char *word, char separator)
{
  if (separator != ' ')
    g_ptr_array_add (line, g_strdup (word));
  else if (*word != '\0' && line->len > 0 && is_unit (word))
    {
      g_autofree char *number = g_ptr_array_index (line, line->len - 1);
      g_ptr_array_index (line, line->len - 1) = g_strconcat (number, " ", word, NULL);
    }
  else if (*word != '\0')
    g_ptr_array_add (line, g_strdup (word));
}

static GPtrArray *
cells_of_line (const char *line, char separator)
{
  const char between[] = { separator, '\0' };
  g_auto (GStrv) words = g_strsplit (line, between, MOST_COLUMNS + 1);
  GPtrArray *cells = g_ptr_array_new_with_free_func (g_free);

  for (gsize i = 0; words[i] != NULL; i++)
    append_cell (cells, g_strstrip (words[i]), separator);
  /* What a spreadsheet adds */
  while (cells->len > 0 && *(const char *)g_ptr_array_index (cells, cells->len - 1) == '\0')
    g_ptr_array_remove_index (cells, cells->len - 1);
  return cells;
}

static Cells
cells_of (const char *text)
{
  Cells cells = { g_ptr_array_new_with_free_func ((GDestroyNotify)g_ptr_array_unref),
                  g_array_new (FALSE, FALSE, sizeof (gsize)) };
  g_auto (GStrv) lines = lines_of (text);
  const char separator = separator_of (lines);

  for (gsize i = 0, number = 1; lines[i] != NULL; i++, number++)
    {
      GPtrArray *line = is_comment (lines[i]) ? NULL : cells_of_line (lines[i], separator);
      if (line != NULL && line->len > 0)
        {
          g_ptr_array_add (cells.lines, line);
          g_array_append_val (cells.numbers, number);
        }
      else if (line != NULL)
        g_ptr_array_unref (line);
    }
  return cells;
}

/* --- what the cells hold --- */

static gboolean
read_number (const TrammelPositionListOptions *options, const char *text, double *out, GError **error)
{
  const TrammelUnit *unit = options->unit;

  if (!options->rotary)
    return trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_LENGTH, unit, out, error);
  if (!trammel_quantity_parse_value (text, TRAMMEL_DIMENSION_ANGLE, NULL, out, error))
    return FALSE;
  *out *= 180 / G_PI;
  return TRUE;
}

static gboolean
is_number (const TrammelPositionListOptions *options, const char *text)
{
  double value;
  return read_number (options, text, &value, NULL);
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
  const Cells *cells;
  gsize first; /* line of numbers */
  gsize n_columns;
  GArray *places; /* of Place */
} Reader;

static gboolean
refuse (const Reader *reader, gsize line, const char *why, GError **error)
{
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("line %zu: %s"),
               g_array_index (reader->cells->numbers, gsize, line), why);
  return FALSE;
}

static gboolean
number_in (const Reader *reader, gsize line, gsize column, double *out, GError **error)
{
  const char *text = cell_at (reader->cells, line, column);
  GError *why = NULL;

  if (*text == '\0')
    return refuse (reader, line, column == 0 ? _ ("the target is missing") : _ ("the value is missing"), error);
  if (read_number (reader->options, text, out, &why))
    return TRUE;
  g_propagate_prefixed_error (error, why, _ ("line %zu: "), g_array_index (reader->cells->numbers, gsize, line));
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

/* From the order of the targets. A target that is only said again, with no way on from it, goes with the pass that it
 * ends. */
static void
tell_sides_by_order (Reader *reader)
{
  int way = 0;

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
  for (gsize i = reader->first; i < reader->cells->lines->len; i++)
    if (!read_side (cell_at (reader->cells, i, 2), &side))
      return FALSE;
  return TRUE;
}

static gboolean
read_in_order (Reader *reader, gboolean has_sides, GError **error)
{
  for (gsize i = reader->first; i < reader->cells->lines->len; i++)
    {
      Place place = { 0, 0, TRAMMEL_APPROACH_NONE, 0 };
      if (!number_in (reader, i, 0, &place.target, error) || !number_in (reader, i, 1, &place.value, error))
        return FALSE;
      if (has_sides)
        read_side (cell_at (reader->cells, i, 2), &place.side);
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
  TrammelListPasses passes = reader->options->passes;
  TrammelApproach said
      = reader->first > 0 ? side_in_header (cell_at (reader->cells, 0, column)) : TRAMMEL_APPROACH_NONE;

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
      for (gsize i = reader->first; i < reader->cells->lines->len; i++)
        {
          Place place = { 0, 0, side, runs[side] };
          if (*cell_at (reader->cells, i, column) == '\0')
            continue;
          if (!number_in (reader, i, 0, &place.target, error) || !number_in (reader, i, column, &place.value, error))
            return FALSE;
          g_array_append_val (reader->places, place);
        }
    }
  return TRUE;
}

/* --- readings from places --- */

/* TRUE when the values do not grow with the targets by at least a half. */
static gboolean
look_like_deviations (const GArray *places)
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
  return fabs (sxy) < 0.5 * sxx;
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

  out->are_deviations = options->values == TRAMMEL_LIST_VALUES_DEVIATIONS
                        || (options->values == TRAMMEL_LIST_VALUES_GUESSED && look_like_deviations (reader->places));
  for (guint i = 0; i < reader->places->len; i++)
    {
      Place place = g_array_index (reader->places, Place, i);
      place.value += out->are_deviations ? place.target : 0;
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
begin (Reader *reader, GError **error)
{
  const Cells *cells = reader->cells;

  if (cells->lines->len > 0 && !is_number (reader->options, cell_at (cells, 0, 0)))
    reader->first = 1;
  if (cells->lines->len <= reader->first)
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
                           _ ("there is nothing in the list; lines with a target and what the instrument shows there "
                              "are wanted"));
      return FALSE;
    }
  for (gsize i = 0; i < cells->lines->len; i++)
    {
      const gsize length = line_at (cells, i)->len;
      if (length > MOST_COLUMNS)
        return refuse (reader, i, _ ("too many columns; a target and at most 1000 values are wanted"), error);
      reader->n_columns = i < reader->first ? 0 : MAX (reader->n_columns, length);
    }
  return reader->n_columns >= 2
         || refuse (reader, reader->first, _ ("found one column; a target and a value on each line are wanted"), error);
}

gboolean
trammel_position_list_read (const char *text, const TrammelPositionListOptions *options, TrammelPositionList *out,
                            GError **error)
{
  g_return_val_if_fail (text != NULL && options != NULL && g_ascii_isupper (options->letter) && out != NULL, FALSE);

  g_auto (Cells) cells = cells_of (text);
  g_autoptr (GArray) places = g_array_new (FALSE, FALSE, sizeof (Place));
  Reader reader = { options, &cells, 0, 0, places };

  if (!begin (&reader, error))
    return FALSE;
  const gboolean has_sides = has_column_of_sides (&reader), in_columns = reader.n_columns > 2 && !has_sides;
  if (!(in_columns ? read_columns (&reader, error) : read_in_order (&reader, has_sides, error)))
    return FALSE;
  if (places->len == 0)
    return refuse (&reader, reader.first, _ ("the value is missing"), error);

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

gboolean
trammel_position_list_is_likely (const char *text)
{
  g_return_val_if_fail (text != NULL, FALSE);

  const TrammelPositionListOptions options = { .letter = 'X' };
  g_auto (TrammelPositionList) list = { NULL };

  return trammel_position_list_read (text, &options, &list, NULL)
         && trammel_readings_length (list.readings) >= LEAST_LIKELY_LINES;
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
