/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "measure/reading.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/number.h"

/* Beyond this no machine moves; it keeps squares of lengths far from overflow. mm. */
#define LONGEST 1e9
#define SHORTEST 1e-6
#define SMALLEST_U 1e-9

typedef struct
{
  const char *key;
  const char *label;
} Column;

typedef struct
{
  const char *key;
  const char *label;
  gboolean printed, fitted, needs_nominal;
} Kind;

static const Column columns[TRAMMEL_N_COLUMNS] = {
  [TRAMMEL_COLUMN_KIND] = { "kind", N_ ("Kind") },
  [TRAMMEL_COLUMN_ALONG] = { "along", N_ ("Along") },
  [TRAMMEL_COLUMN_NOMINAL] = { "nominal", N_ ("Nominal") },
  [TRAMMEL_COLUMN_MEASURED] = { "measured", N_ ("Measured") },
  [TRAMMEL_COLUMN_U] = { "u", N_ ("u") },
  [TRAMMEL_COLUMN_INSTRUMENT] = { "instrument", N_ ("Instrument") },
  [TRAMMEL_COLUMN_APPROACH] = { "approach", N_ ("Approach") },
  [TRAMMEL_COLUMN_RUN] = { "run", N_ ("Run") },
  [TRAMMEL_COLUMN_SET] = { "set", N_ ("Set") },
  [TRAMMEL_COLUMN_NOTE] = { "note", N_ ("Note") },
};

static const Kind kinds[TRAMMEL_N_READING_KINDS] = {
  [TRAMMEL_READING_OUTSIDE] = { "outside", N_ ("Outside"), TRUE, TRUE, TRUE },
  [TRAMMEL_READING_INSIDE] = { "inside", N_ ("Inside"), TRUE, TRUE, TRUE },
  [TRAMMEL_READING_CENTER] = { "center", N_ ("Center"), TRUE, TRUE, TRUE },
  [TRAMMEL_READING_HEIGHT] = { "height", N_ ("Height"), TRUE, TRUE, TRUE },
  [TRAMMEL_READING_TRAVEL] = { "travel", N_ ("Travel"), FALSE, TRUE, TRUE },
  [TRAMMEL_READING_POSITION] = { "position", N_ ("Position"), FALSE, TRUE, TRUE },
  [TRAMMEL_READING_REVERSAL] = { "reversal", N_ ("Reversal"), FALSE, TRUE, FALSE },
  [TRAMMEL_READING_HOME] = { "home", N_ ("Home"), FALSE, FALSE, FALSE },
};

static const struct
{
  const char *text;
  TrammelApproach approach;
} approaches[] = {
  { "", TRAMMEL_APPROACH_NONE },  { "+", TRAMMEL_APPROACH_UP },
  { "-", TRAMMEL_APPROACH_DOWN }, { "reversed", TRAMMEL_APPROACH_REVERSED },
  { "up", TRAMMEL_APPROACH_UP },  { "down", TRAMMEL_APPROACH_DOWN },
  { "−", TRAMMEL_APPROACH_DOWN },
};

const char *
trammel_column_key (TrammelColumn column)
{
  g_return_val_if_fail ((guint)column < TRAMMEL_N_COLUMNS, NULL);

  return columns[column].key;
}

const char *
trammel_column_label (TrammelColumn column)
{
  g_return_val_if_fail ((guint)column < TRAMMEL_N_COLUMNS, NULL);

  return _ (columns[column].label);
}

const char *
trammel_reading_kind_key (TrammelReadingKind kind)
{
  g_return_val_if_fail ((guint)kind < TRAMMEL_N_READING_KINDS, NULL);

  return kinds[kind].key;
}

const char *
trammel_reading_kind_label (TrammelReadingKind kind)
{
  g_return_val_if_fail ((guint)kind < TRAMMEL_N_READING_KINDS, NULL);

  return _ (kinds[kind].label);
}

static gboolean
equal_but_for_case (const char *a, const char *b)
{
  g_autofree char *folded_a = g_utf8_casefold (a, -1);
  g_autofree char *folded_b = g_utf8_casefold (b, -1);

  return strcmp (folded_a, folded_b) == 0;
}

/* White space at both ends off; the common case needs no copy. */
static const char *
trimmed (const char *text, char **owned)
{
  gsize length = strlen (text);

  if (length == 0 || (!g_ascii_isspace (text[0]) && !g_ascii_isspace (text[length - 1])))
    return text;
  *owned = g_strstrip (g_strdup (text));
  return *owned;
}

gboolean
trammel_reading_kind_parse (const char *text, TrammelReadingKind *out, GError **error)
{
  g_autofree char *owned = NULL;

  g_return_val_if_fail (text != NULL && out != NULL, FALSE);

  const char *word = trimmed (text, &owned);
  for (int i = 0; i < TRAMMEL_N_READING_KINDS; i++)
    if (strcmp (word, kinds[i].key) == 0)
      {
        *out = (TrammelReadingKind)i;
        return TRUE;
      }
  for (int i = 0; i < TRAMMEL_N_READING_KINDS; i++)
    if (equal_but_for_case (word, kinds[i].key) || equal_but_for_case (word, _ (kinds[i].label)))
      {
        *out = (TrammelReadingKind)i;
        return TRUE;
      }
  g_autofree char *excerpt = trammel_error_excerpt (text, -1);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE,
               _ ("found “%s”; outside, inside, center, height, travel, position, reversal or home is wanted"),
               excerpt);
  return FALSE;
}

gboolean
trammel_reading_kind_is_printed (TrammelReadingKind kind)
{
  g_return_val_if_fail ((guint)kind < TRAMMEL_N_READING_KINDS, FALSE);

  return kinds[kind].printed;
}

gboolean
trammel_reading_kind_is_fitted (TrammelReadingKind kind)
{
  g_return_val_if_fail ((guint)kind < TRAMMEL_N_READING_KINDS, FALSE);

  return kinds[kind].fitted;
}

gboolean
trammel_reading_kind_needs_nominal (TrammelReadingKind kind)
{
  g_return_val_if_fail ((guint)kind < TRAMMEL_N_READING_KINDS, FALSE);

  return kinds[kind].needs_nominal;
}

const char *
trammel_approach_key (TrammelApproach approach)
{
  g_return_val_if_fail ((guint)approach <= TRAMMEL_APPROACH_REVERSED, NULL);

  return approaches[approach].text;
}

gboolean
trammel_approach_parse (const char *text, TrammelApproach *out, GError **error)
{
  g_autofree char *owned = NULL;

  g_return_val_if_fail (text != NULL && out != NULL, FALSE);

  const char *word = trimmed (text, &owned);
  for (gsize i = 0; i < G_N_ELEMENTS (approaches); i++)
    if (g_ascii_strcasecmp (word, approaches[i].text) == 0)
      {
        *out = approaches[i].approach;
        return TRUE;
      }
  g_autofree char *excerpt = trammel_error_excerpt (text, -1);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE, _ ("found “%s”; +, -, reversed or nothing is wanted"),
               excerpt);
  return FALSE;
}

void
trammel_reading_init (TrammelReading *reading)
{
  g_return_if_fail (reading != NULL);

  *reading = (TrammelReading){ .kind = TRAMMEL_READING_OUTSIDE, .nominal = NAN, .measured = NAN, .u = NAN };
}

void
trammel_reading_clear (TrammelReading *reading)
{
  g_return_if_fail (reading != NULL);

  g_clear_pointer (&reading->instrument, g_ref_string_release);
  g_clear_pointer (&reading->set, g_ref_string_release);
  g_clear_pointer (&reading->note, g_ref_string_release);
  g_clear_pointer (&reading->extra, g_ref_string_release);
  g_clear_pointer (&reading->faulty, g_ref_string_release);
}

static GRefString *
acquire_or_null (GRefString *text)
{
  return text ? g_ref_string_acquire (text) : NULL;
}

void
trammel_reading_copy (const TrammelReading *from, TrammelReading *to)
{
  g_return_if_fail (from != NULL && to != NULL);

  *to = *from;
  to->instrument = acquire_or_null (from->instrument);
  to->set = acquire_or_null (from->set);
  to->note = acquire_or_null (from->note);
  to->extra = acquire_or_null (from->extra);
  to->faulty = acquire_or_null (from->faulty);
}

static gboolean
same_number (double a, double b)
{
  return a == b || (isnan (a) && isnan (b));
}

gboolean
trammel_reading_equal (const TrammelReading *a, const TrammelReading *b)
{
  g_return_val_if_fail (a != NULL && b != NULL, FALSE);

  return a->kind == b->kind && a->approach == b->approach && !a->has_along == !b->has_along
         && (!a->has_along || trammel_direction_equal (&a->along, &b->along)) && same_number (a->nominal, b->nominal)
         && same_number (a->measured, b->measured) && same_number (a->u, b->u) && a->run == b->run
         && g_strcmp0 (a->instrument, b->instrument) == 0 && g_strcmp0 (a->set, b->set) == 0
         && g_strcmp0 (a->note, b->note) == 0 && g_strcmp0 (a->extra, b->extra) == 0
         && g_strcmp0 (a->faulty, b->faulty) == 0;
}

gboolean
trammel_reading_has_faulty (const TrammelReading *reading)
{
  g_return_val_if_fail (reading != NULL, FALSE);

  return reading->faulty != NULL;
}

gboolean
trammel_reading_is_complete (const TrammelReading *reading)
{
  g_return_val_if_fail (reading != NULL, FALSE);

  return reading->has_along && reading->faulty == NULL && !isnan (reading->measured)
         && (!isnan (reading->nominal) || !kinds[reading->kind].needs_nominal);
}

gboolean
trammel_reading_is_fitted (const TrammelReading *reading)
{
  g_return_val_if_fail (reading != NULL, FALSE);

  return kinds[reading->kind].fitted && trammel_reading_is_complete (reading);
}

/* "found X; a height is measured along Z". Takes @found over. */
static gboolean
unusable (char *found, const char *reason, GError **error)
{
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA, _ ("found %s; %s"), found, reason);
  g_free (found);
  return FALSE;
}

static gboolean
unusable_amount (double amount, const char *reason, GError **error)
{
  return unusable (isfinite (amount) ? trammel_number_to_text (amount) : g_strdup ("?"), reason, error);
}

static gboolean
unusable_along (const TrammelReading *reading, const char *reason, GError **error)
{
  return unusable (trammel_direction_to_text (&reading->along), reason, error);
}

gboolean
trammel_reading_u_is_usable (double u)
{
  return u >= SMALLEST_U && u <= LONGEST;
}

/* Not a length: may be 0 or negative. */
static gboolean
is_place (const TrammelReading *reading)
{
  return reading->kind == TRAMMEL_READING_POSITION || reading->kind == TRAMMEL_READING_REVERSAL
         || reading->kind == TRAMMEL_READING_HOME;
}

static gboolean
amounts_are_usable (const TrammelReading *reading, GError **error)
{
  const gboolean without_nominal = isnan (reading->nominal) && !kinds[reading->kind].needs_nominal;

  /* Written so that NaN fails too. */
  if (!without_nominal && !(fabs (reading->nominal) <= LONGEST))
    return unusable_amount (reading->nominal, _ ("a nominal length of at most 1e9 mm is wanted"), error);
  if (!(fabs (reading->measured) <= LONGEST))
    return unusable_amount (reading->measured, _ ("a measured length of at most 1e9 mm is wanted"), error);
  if (!isnan (reading->u) && !trammel_reading_u_is_usable (reading->u))
    return unusable_amount (reading->u, _ ("u must be more than 0 (1e-9 to 1e9 mm)"), error);
  if (!is_place (reading) && reading->nominal < SHORTEST)
    return unusable_amount (reading->nominal, _ ("a nominal length of more than 0 is wanted (at least 1e-6 mm)"),
                            error);
  return TRUE;
}

/* What each kind is measured along. */
static gboolean
along_is_usable (const TrammelReading *reading, GError **error)
{
  const gboolean single = trammel_direction_is_single (&reading->along);
  const gboolean spatial = strchr ("XYZ", reading->along.axes[0]) != NULL;

  if (reading->kind == TRAMMEL_READING_HEIGHT && (!single || reading->along.axes[0] != 'Z'))
    return unusable_along (reading, _ ("a height is measured along Z"), error);
  if (reading->kind == TRAMMEL_READING_POSITION && !single)
    return unusable_along (reading, _ ("a position is measured along one axis, not along a diagonal"), error);
  if (reading->kind == TRAMMEL_READING_HOME && !single)
    return unusable_along (reading, _ ("an axis has its home by itself: one axis is wanted, not a diagonal"), error);
  if (reading->kind == TRAMMEL_READING_REVERSAL && !single)
    return unusable_along (reading, _ ("a reversal is measured along one axis, not along a diagonal"), error);
  if (trammel_reading_kind_is_printed (reading->kind) && !spatial)
    return unusable_along (reading, _ ("a printed size is measured along X, Y, Z or a direction between them"), error);
  if (reading->approach == TRAMMEL_APPROACH_REVERSED && !single)
    return unusable_along (reading, _ ("a reversed travel is measured along one axis, not along a diagonal"), error);
  return TRUE;
}

gboolean
trammel_reading_check (const TrammelReading *reading, GError **error)
{
  g_return_val_if_fail (reading != NULL, FALSE);

  if (!reading->has_along || reading->along.axes[0] == '\0')
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA, _ ("the direction is missing"));
      return FALSE;
    }
  if (!amounts_are_usable (reading, error) || !along_is_usable (reading, error))
    return FALSE;
  if (reading->approach != TRAMMEL_APPROACH_REVERSED || reading->kind == TRAMMEL_READING_TRAVEL)
    return TRUE;
  return unusable (g_strdup (trammel_approach_key (TRAMMEL_APPROACH_REVERSED)),
                   reading->kind == TRAMMEL_READING_REVERSAL
                       ? _ ("a reversal is approached from both sides; leave its approach blank")
                       : _ ("only a travel can be “reversed”; a place is approached by + or -"),
                   error);
}
