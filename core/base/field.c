/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/field-private.h"

#include "base/error.h"
#include "base/number.h"
#include "base/unit-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

static gboolean
is_bounded (const TrammelField *field)
{
  return field->low < field->high;
}

static gboolean
is_within (const TrammelField *field, double value)
{
  if (!is_bounded (field))
    return TRUE;
  return (field->above_low ? value > field->low : value >= field->low) && value <= field->high;
}

/* A bound with its unit, as in "1000 mm". */
static char *
bound_text (const TrammelField *field, double bound)
{
  const gboolean with_unit = field->type == TRAMMEL_FIELD_QUANTITY || field->type == TRAMMEL_FIELD_QUANTITIES;
  if (!with_unit || field->dimension == TRAMMEL_DIMENSION_NUMBER)
    return trammel_number_to_text (bound);

  const TrammelUnit *unit = trammel_unit_usual (field->dimension);
  const double value = bound / trammel_unit_factor (unit);
  /* Without the last digits of a conversion. */
  g_autofree char *number
      = trammel_number_to_text (unit == trammel_unit_base (field->dimension) ? value : round (value * 1e6) / 1e6);
  return g_strdup_printf ("%s %s", number, trammel_unit_symbol (unit));
}

static char *
wanted_in_bounds (const TrammelField *field)
{
  if (!is_bounded (field))
    return field->type == TRAMMEL_FIELD_EXACT ? g_strdup (_ ("more than 0")) : trammel_field_wanted (field);

  g_autofree char *low = bound_text (field, field->low);
  if (field->high >= G_MAXDOUBLE)
    return g_strdup_printf (field->above_low ? _ ("more than %s") : _ ("%s or more"), low);

  g_autofree char *high = bound_text (field, field->high);
  if (field->type == TRAMMEL_FIELD_INTEGER)
    return g_strdup_printf (_ ("a whole number from %s to %s"), low, high);
  if (field->type == TRAMMEL_FIELD_INTEGERS)
    return g_strdup_printf (_ ("a list of at most %d whole numbers from %s to %s"), TRAMMEL_RECORD_MAX_INTEGERS, low,
                            high);
  return g_strdup_printf (field->above_low ? _ ("more than %s and at most %s") : _ ("from %s to %s"), low, high);
}

static char *
wanted_pairs (const TrammelField *field)
{
  const char *first = trammel_unit_symbol (trammel_unit_base (field->dimension));
  const char *second = trammel_unit_symbol (trammel_unit_base (field->other_dimension));
  return g_strdup_printf (_ ("a list of at most %d pairs such as “0 %s 0.4 %s; 60 %s 0.2 %s”"),
                          TRAMMEL_RECORD_MAX_PAIRS, first, second, first, second);
}

static char *
wanted_choices (const TrammelField *field)
{
  g_autofree char *keys = g_strjoinv (", ", (char **)field->choices);
  return g_strdup_printf (_ ("one of %s"), keys);
}

char *
trammel_field_wanted (const TrammelField *field)
{
  switch (field->type)
    {
    case TRAMMEL_FIELD_INTEGER:
    case TRAMMEL_FIELD_INTEGERS:
      return is_bounded (field) ? wanted_in_bounds (field) : g_strdup (_ ("a whole number"));
    case TRAMMEL_FIELD_EXACT:
      return g_strdup (_ ("a ratio such as 5, 2.5, 57/11 or 5 2/11"));
    case TRAMMEL_FIELD_QUANTITY:
    case TRAMMEL_FIELD_QUANTITIES:
      return g_strdup (trammel_dimension_wanted (field->dimension));
    case TRAMMEL_FIELD_CHOICE:
      return wanted_choices (field);
    case TRAMMEL_FIELD_FLAG:
      return g_strdup (_ ("yes or no"));
    case TRAMMEL_FIELD_PAIRS:
      return wanted_pairs (field);
    case TRAMMEL_FIELD_TEXT:
    default:
      return g_strdup (_ ("text in UTF-8"));
    }
}

static gboolean
fail (int code, const char *text, char *wanted, GError **error)
{
  g_autofree char *owned = wanted;
  g_autofree char *found = trammel_error_excerpt (text, -1);
  g_set_error (error, TRAMMEL_ERROR, code, _ ("found “%s”; %s is wanted"), found, owned);
  return FALSE;
}

static gboolean
fail_bounds (const TrammelField *field, const char *found, GError **error)
{
  g_autofree char *wanted = wanted_in_bounds (field);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found %s; %s is wanted"), found, wanted);
  return FALSE;
}

gboolean
trammel_field_integer_fits (const TrammelField *field, gint64 value, GError **error)
{
  if (value != G_MININT64 && is_within (field, (double)value))
    return TRUE;

  g_autofree char *found = g_strdup_printf ("%" G_GINT64_FORMAT, value);
  return fail_bounds (field, found, error);
}

static gboolean
parse_integer (const TrammelField *field, const char *text, gint64 *out, GError **error)
{
  TrammelExact exact;
  g_autoptr (GError) why = NULL;
  if (!trammel_exact_parse (text, &exact, &why))
    {
      const gboolean overflow = g_error_matches (why, TRAMMEL_ERROR, TRAMMEL_ERROR_OVERFLOW);
      return fail (overflow ? TRAMMEL_ERROR_OVERFLOW : TRAMMEL_ERROR_PARSE, text, trammel_field_wanted (field), error);
    }
  if (exact.den != 1 || exact.pi != 0)
    return fail (TRAMMEL_ERROR_PARSE, text, trammel_field_wanted (field), error);
  if (!trammel_field_integer_fits (field, exact.num, error))
    return FALSE;

  *out = exact.num;
  return TRUE;
}

static gboolean
parse_integers (const TrammelField *field, const char *text, TrammelFieldValue *out, GError **error)
{
  gint64 values[TRAMMEL_RECORD_MAX_INTEGERS];
  gsize n = 0;
  const char *separators = ",; \t\r\n";

  for (const char *p = text + strspn (text, separators); *p != '\0'; p += strspn (p, separators))
    {
      const gsize length = strcspn (p, separators);
      g_autofree char *item = g_strndup (p, length);
      if (n == TRAMMEL_RECORD_MAX_INTEGERS)
        return fail (TRAMMEL_ERROR_RANGE, text, trammel_field_wanted (field), error);
      if (!parse_integer (field, item, &values[n++], error))
        return FALSE;
      p += length;
    }

  out->list.values = g_memdup2 (values, n * sizeof *values);
  out->list.n = n;
  return TRUE;
}

static gboolean
quantity_fits (const TrammelField *field, TrammelQuantity quantity, GError **error)
{
  TrammelExact base;
  if (!trammel_quantity_base (quantity, &base, error))
    return FALSE;
  if (is_within (field, trammel_exact_to_double (base)))
    return TRUE;

  g_autofree char *found = trammel_quantity_to_text (quantity);
  return fail_bounds (field, found, error);
}

gboolean
trammel_field_quantities_fit (const TrammelField *field, const TrammelQuantity *quantities, gsize n, GError **error)
{
  if (n > TRAMMEL_RECORD_MAX_QUANTITIES)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE,
                   _ ("found a list of %u; at most %d, with semicolons between them, are wanted"),
                   (guint)MIN (n, G_MAXUINT), TRAMMEL_RECORD_MAX_QUANTITIES);
      return FALSE;
    }
  for (gsize i = 0; i < n; i++)
    if (!quantity_fits (field, quantities[i], error))
      return FALSE;
  return TRUE;
}

gboolean
trammel_field_pairs_fit (const TrammelField *field, const TrammelPair *pairs, gsize n, GError **error)
{
  if (n > TRAMMEL_RECORD_MAX_PAIRS)
    {
      g_autofree char *wanted = wanted_pairs (field);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found %u pairs; %s is wanted"),
                   (guint)MIN (n, G_MAXUINT), wanted);
      return FALSE;
    }
  for (gsize i = 0; i < n; i++)
    {
      if (!quantity_fits (field, pairs[i].first, error) || !quantity_fits (field, pairs[i].second, error))
        return FALSE;
      if (i == 0 || trammel_quantity_value (pairs[i].first) > trammel_quantity_value (pairs[i - 1].first))
        continue;
      g_autofree char *found = trammel_quantity_to_text (pairs[i].first);
      g_autofree char *before = trammel_quantity_to_text (pairs[i - 1].first);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found %s after %s; pairs in rising order are wanted"),
                   found, before);
      return FALSE;
    }
  return TRUE;
}

/* "600 rpm 0.2 N·m": where the first ends is not said, so it is the first blank at which both halves can be read. */
static gboolean
parse_pair (const TrammelField *field, const char *text, TrammelPair *out)
{
  for (const char *p = text + strcspn (text, " \t"); *p != '\0'; p += 1 + strcspn (p + 1, " \t"))
    {
      g_autofree char *first = g_strndup (text, (gsize)(p - text));
      if (trammel_quantity_parse (first, field->dimension, NULL, &out->first, NULL)
          && trammel_quantity_parse (p, field->other_dimension, NULL, &out->second, NULL))
        return TRUE;
    }
  return FALSE;
}

static gboolean
parse_pairs (const TrammelField *field, const char *text, TrammelFieldValue *out, GError **error)
{
  TrammelPair pairs[TRAMMEL_RECORD_MAX_PAIRS];
  gsize n = 0;
  const char *separators = ";\r\n";

  for (const char *p = text + strspn (text, separators); *p != '\0'; p += strspn (p, separators))
    {
      const gsize length = strcspn (p, separators);
      g_autofree char *pair = g_strstrip (g_strndup (p, length));
      p += length;
      if (*pair == '\0')
        continue;
      if (n == TRAMMEL_RECORD_MAX_PAIRS)
        return fail (TRAMMEL_ERROR_RANGE, text, trammel_field_wanted (field), error);
      if (!parse_pair (field, pair, &pairs[n++]))
        return fail (TRAMMEL_ERROR_PARSE, pair, trammel_field_wanted (field), error);
    }
  if (!trammel_field_pairs_fit (field, pairs, n, error))
    return FALSE;

  out->set = n > 0;
  out->pairs.values = g_memdup2 (pairs, n * sizeof *pairs);
  out->pairs.n = n;
  return TRUE;
}

static gboolean
parse_quantities (const TrammelField *field, const char *text, const TrammelUnit *assumed, TrammelFieldValue *out,
                  GError **error)
{
  TrammelQuantity quantities[TRAMMEL_RECORD_MAX_QUANTITIES + 1];
  gsize n = 0;
  const char *separators = ";\r\n";

  for (const char *p = text + strspn (text, separators); *p != '\0'; p += strspn (p, separators))
    {
      const gsize length = strcspn (p, separators);
      g_autofree char *quantity = g_strstrip (g_strndup (p, length));
      p += length;
      if (*quantity == '\0')
        continue;
      if (n == G_N_ELEMENTS (quantities))
        break; /* too many already */
      if (!trammel_quantity_parse (quantity, field->dimension, assumed, &quantities[n++], error))
        return FALSE;
    }
  if (!trammel_field_quantities_fit (field, quantities, n, error))
    return FALSE;

  out->set = n > 0;
  out->quantities.values = g_memdup2 (quantities, n * sizeof *quantities);
  out->quantities.n = n;
  return TRUE;
}

static gboolean
parse_exact (const TrammelField *field, const char *text, TrammelExact *out, GError **error)
{
  TrammelQuantity quantity;
  TrammelExact exact;
  g_autoptr (GError) why = NULL;
  if (!trammel_quantity_parse (text, TRAMMEL_DIMENSION_NUMBER, NULL, &quantity, &why))
    {
      if (g_error_matches (why, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE))
        return fail (TRAMMEL_ERROR_PARSE, text, trammel_field_wanted (field), error);
      g_propagate_error (error, g_steal_pointer (&why));
      return FALSE;
    }
  if (!trammel_quantity_base (quantity, &exact, error))
    return FALSE;
  if (exact.num <= 0 || !is_within (field, trammel_exact_to_double (exact)))
    {
      g_autofree char *found = trammel_exact_to_text (exact);
      return fail_bounds (field, found, error);
    }

  *out = exact;
  return TRUE;
}

static gboolean
parse_quantity (const TrammelField *field, const char *text, const TrammelUnit *assumed, TrammelQuantity *out,
                GError **error)
{
  TrammelQuantity quantity;
  if (!trammel_quantity_parse (text, field->dimension, assumed, &quantity, error)
      || !quantity_fits (field, quantity, error))
    return FALSE;

  *out = quantity;
  return TRUE;
}

static gboolean
parse_choice (const TrammelField *field, const char *text, gsize *out, GError **error)
{
  g_autofree char *key = g_strstrip (g_strdup (text));
  for (gsize i = 0; field->choices[i] != NULL; i++)
    if (g_ascii_strcasecmp (field->choices[i], key) == 0)
      {
        *out = i;
        return TRUE;
      }
  return fail (TRAMMEL_ERROR_PARSE, text, trammel_field_wanted (field), error);
}

static gboolean
parse_flag (const TrammelField *field, const char *text, gboolean *out, GError **error)
{
  static const char *const words[] = { "no", "yes", "false", "true", "0", "1" };
  g_autofree char *word = g_strstrip (g_strdup (text));
  for (gsize i = 0; i < G_N_ELEMENTS (words); i++)
    if (g_ascii_strcasecmp (words[i], word) == 0)
      {
        *out = i % 2 == 1;
        return TRUE;
      }
  return fail (TRAMMEL_ERROR_PARSE, text, trammel_field_wanted (field), error);
}

static gboolean
parse_text (const TrammelField *field, const char *text, GRefString **out, GError **error)
{
  if (!g_utf8_validate (text, -1, NULL))
    return fail (TRAMMEL_ERROR_PARSE, text, trammel_field_wanted (field), error);
  *out = g_ref_string_new (text);
  return TRUE;
}

static gboolean
parse_typed (const TrammelField *field, const char *text, const TrammelUnit *assumed, TrammelFieldValue *out,
             GError **error)
{
  switch (field->type)
    {
    case TRAMMEL_FIELD_INTEGER:
      return parse_integer (field, text, &out->integer, error);
    case TRAMMEL_FIELD_INTEGERS:
      return parse_integers (field, text, out, error);
    case TRAMMEL_FIELD_EXACT:
      return parse_exact (field, text, &out->exact, error);
    case TRAMMEL_FIELD_QUANTITY:
      return parse_quantity (field, text, assumed, &out->quantity, error);
    case TRAMMEL_FIELD_CHOICE:
      return parse_choice (field, text, &out->choice, error);
    case TRAMMEL_FIELD_FLAG:
      return parse_flag (field, text, &out->flag, error);
    case TRAMMEL_FIELD_TEXT:
      return parse_text (field, text, &out->text, error);
    case TRAMMEL_FIELD_QUANTITIES:
      return parse_quantities (field, text, assumed, out, error);
    case TRAMMEL_FIELD_PAIRS:
      return parse_pairs (field, text, out, error);
    default:
      g_return_val_if_reached (FALSE);
    }
}

gboolean
trammel_field_parse (const TrammelField *field, const char *text, const TrammelUnit *assumed, TrammelFieldValue *out,
                     GError **error)
{
  TrammelFieldValue value = { .set = TRUE };
  if (!parse_typed (field, text, assumed, &value, error))
    return FALSE;
  *out = value;
  return TRUE;
}

static char *
integers_text (const TrammelFieldValue *value)
{
  GString *text = g_string_new (NULL);
  for (gsize i = 0; i < value->list.n; i++)
    g_string_append_printf (text, "%s%" G_GINT64_FORMAT, i > 0 ? ", " : "", value->list.values[i]);
  return g_string_free (text, FALSE);
}

static char *
pairs_text (const TrammelFieldValue *value)
{
  GString *text = g_string_new (NULL);
  for (gsize i = 0; i < value->pairs.n; i++)
    {
      g_autofree char *first = trammel_quantity_to_text (value->pairs.values[i].first);
      g_autofree char *second = trammel_quantity_to_text (value->pairs.values[i].second);
      g_string_append_printf (text, "%s%s %s", i > 0 ? "; " : "", first, second);
    }
  return g_string_free (text, FALSE);
}

static char *
quantities_text (const TrammelFieldValue *value)
{
  GString *text = g_string_new (NULL);
  for (gsize i = 0; i < value->quantities.n; i++)
    {
      g_autofree char *quantity = trammel_quantity_to_text (value->quantities.values[i]);
      g_string_append_printf (text, "%s%s", i > 0 ? "; " : "", quantity);
    }
  return g_string_free (text, FALSE);
}

char *
trammel_field_text (const TrammelField *field, const TrammelFieldValue *value)
{
  switch (field->type)
    {
    case TRAMMEL_FIELD_INTEGER:
      return g_strdup_printf ("%" G_GINT64_FORMAT, value->integer);
    case TRAMMEL_FIELD_INTEGERS:
      return integers_text (value);
    case TRAMMEL_FIELD_EXACT:
      return trammel_exact_to_text (value->exact);
    case TRAMMEL_FIELD_QUANTITY:
      return trammel_quantity_to_text (value->quantity);
    case TRAMMEL_FIELD_CHOICE:
      return g_strdup (field->choices[value->choice]);
    case TRAMMEL_FIELD_FLAG:
      return g_strdup (value->flag ? "yes" : "no");
    case TRAMMEL_FIELD_TEXT:
      return g_strdup (value->text);
    case TRAMMEL_FIELD_QUANTITIES:
      return quantities_text (value);
    case TRAMMEL_FIELD_PAIRS:
      return pairs_text (value);
    default:
      g_return_val_if_reached (NULL);
    }
}

void
trammel_field_value_copy (const TrammelField *field, const TrammelFieldValue *from, TrammelFieldValue *to)
{
  *to = *from;
  if (!from->set)
    return;
  if (field->type == TRAMMEL_FIELD_INTEGERS)
    to->list.values = g_memdup2 (from->list.values, from->list.n * sizeof *from->list.values);
  if (field->type == TRAMMEL_FIELD_QUANTITIES)
    to->quantities.values = g_memdup2 (from->quantities.values, from->quantities.n * sizeof *from->quantities.values);
  if (field->type == TRAMMEL_FIELD_PAIRS)
    to->pairs.values = g_memdup2 (from->pairs.values, from->pairs.n * sizeof *from->pairs.values);
  if (field->type == TRAMMEL_FIELD_TEXT)
    to->text = g_ref_string_acquire (from->text);
}

void
trammel_field_value_clear (const TrammelField *field, TrammelFieldValue *value)
{
  if (value->set && field->type == TRAMMEL_FIELD_INTEGERS)
    g_free (value->list.values);
  if (value->set && field->type == TRAMMEL_FIELD_QUANTITIES)
    g_free (value->quantities.values);
  if (value->set && field->type == TRAMMEL_FIELD_PAIRS)
    g_free (value->pairs.values);
  if (value->set && field->type == TRAMMEL_FIELD_TEXT)
    g_ref_string_release (value->text);
  *value = (TrammelFieldValue){ 0 };
}

static gboolean
lists_equal (const TrammelFieldValue *a, const TrammelFieldValue *b)
{
  if (a->list.n != b->list.n)
    return FALSE;
  return a->list.n == 0 || memcmp (a->list.values, b->list.values, a->list.n * sizeof *a->list.values) == 0;
}

static gboolean
pairs_equal (const TrammelFieldValue *a, const TrammelFieldValue *b)
{
  if (a->pairs.n != b->pairs.n)
    return FALSE;
  for (gsize i = 0; i < a->pairs.n; i++)
    if (!trammel_quantity_equal (a->pairs.values[i].first, b->pairs.values[i].first)
        || !trammel_quantity_equal (a->pairs.values[i].second, b->pairs.values[i].second))
      return FALSE;
  return TRUE;
}

static gboolean
quantities_equal (const TrammelFieldValue *a, const TrammelFieldValue *b)
{
  if (a->quantities.n != b->quantities.n)
    return FALSE;
  for (gsize i = 0; i < a->quantities.n; i++)
    if (!trammel_quantity_equal (a->quantities.values[i], b->quantities.values[i]))
      return FALSE;
  return TRUE;
}

gboolean
trammel_field_value_equal (const TrammelField *field, const TrammelFieldValue *a, const TrammelFieldValue *b)
{
  if (!a->set || !b->set)
    return a->set == b->set;

  switch (field->type)
    {
    case TRAMMEL_FIELD_INTEGER:
      return a->integer == b->integer;
    case TRAMMEL_FIELD_INTEGERS:
      return lists_equal (a, b);
    case TRAMMEL_FIELD_EXACT:
      return trammel_exact_equal (a->exact, b->exact);
    case TRAMMEL_FIELD_QUANTITY:
      return trammel_quantity_equal (a->quantity, b->quantity);
    case TRAMMEL_FIELD_CHOICE:
      return a->choice == b->choice;
    case TRAMMEL_FIELD_FLAG:
      return a->flag == b->flag;
    case TRAMMEL_FIELD_TEXT:
      return strcmp (a->text, b->text) == 0;
    case TRAMMEL_FIELD_QUANTITIES:
      return quantities_equal (a, b);
    case TRAMMEL_FIELD_PAIRS:
      return pairs_equal (a, b);
    default:
      g_return_val_if_reached (FALSE);
    }
}
