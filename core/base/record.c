/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/record.h"

#include "base/error.h"
#include "base/field-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#define MOST_FIELDS 32

struct _TrammelRecord
{
  gatomicrefcount references;
  const TrammelRecordKind *kind;
  char *extra;
  TrammelFieldValue values[];
};

static TrammelRecord *
allocate (const TrammelRecordKind *kind)
{
  TrammelRecord *record = g_malloc0 (sizeof *record + kind->n_fields * sizeof record->values[0]);
  g_atomic_ref_count_init (&record->references);
  record->kind = kind;
  return record;
}

static gboolean
is_blank (const char *text)
{
  return text == NULL || text[strspn (text, " \t\r\n")] == '\0';
}

/* Sets a field to what @text says; a list that is left blank is an empty list, anything else is not set. */
static gboolean
set_from_text (TrammelRecord *record, gsize i, const char *text, const TrammelUnit *assumed, GError **error)
{
  const TrammelField *field = &record->kind->fields[i];
  TrammelFieldValue value = { .set = field->type == TRAMMEL_FIELD_INTEGERS };
  if (!is_blank (text) && !trammel_field_parse (field, text, assumed, &value, error))
    return FALSE;

  trammel_field_value_clear (field, &record->values[i]);
  record->values[i] = value;
  return TRUE;
}

TrammelRecord *
trammel_record_new (const TrammelRecordKind *kind)
{
  g_return_val_if_fail (kind != NULL && kind->n_fields <= MOST_FIELDS, NULL);

  TrammelRecord *record = allocate (kind);
  for (gsize i = 0; i < kind->n_fields; i++)
    {
      g_autoptr (GError) error = NULL;
      if (!set_from_text (record, i, kind->fields[i].initial, NULL, &error))
        g_critical ("%s.%s: initial value: %s", kind->type, kind->fields[i].key, error->message);
    }
  return record;
}

TrammelRecord *
trammel_record_ref (const TrammelRecord *record)
{
  g_return_val_if_fail (record != NULL, NULL);

  TrammelRecord *shared = (TrammelRecord *)record;
  g_atomic_ref_count_inc (&shared->references);
  return shared;
}

void
trammel_record_unref (TrammelRecord *record)
{
  if (record == NULL || !g_atomic_ref_count_dec (&record->references))
    return;
  for (gsize i = 0; i < record->kind->n_fields; i++)
    trammel_field_value_clear (&record->kind->fields[i], &record->values[i]);
  g_free (record->extra);
  g_free (record);
}

static TrammelRecord *
copy (const TrammelRecord *record)
{
  TrammelRecord *made = allocate (record->kind);
  for (gsize i = 0; i < record->kind->n_fields; i++)
    trammel_field_value_copy (&record->kind->fields[i], &record->values[i], &made->values[i]);
  made->extra = g_strdup (record->extra);
  return made;
}

const TrammelRecordKind *
trammel_record_kind (const TrammelRecord *record)
{
  g_return_val_if_fail (record != NULL, NULL);

  return record->kind;
}

gboolean
trammel_record_is (const TrammelRecord *record, const char *type)
{
  g_return_val_if_fail (record != NULL, FALSE);

  return g_strcmp0 (record->kind->type, type) == 0;
}

gboolean
trammel_record_equal (const TrammelRecord *a, const TrammelRecord *b)
{
  if (a == b)
    return TRUE;
  if (a == NULL || b == NULL || a->kind != b->kind || g_strcmp0 (a->extra, b->extra) != 0)
    return FALSE;
  for (gsize i = 0; i < a->kind->n_fields; i++)
    if (!trammel_field_value_equal (&a->kind->fields[i], &a->values[i], &b->values[i]))
      return FALSE;
  return TRUE;
}

const TrammelField *
trammel_record_kind_field (const TrammelRecordKind *kind, const char *key)
{
  g_return_val_if_fail (kind != NULL && key != NULL, NULL);

  for (gsize i = 0; i < kind->n_fields; i++)
    if (strcmp (kind->fields[i].key, key) == 0)
      return &kind->fields[i];
  return NULL;
}

/* Where the field is, or −1 when the kind has none of that name. */
static gssize
field_index (const TrammelRecord *record, const char *key)
{
  const TrammelField *field = trammel_record_kind_field (record->kind, key);
  return field != NULL ? field - record->kind->fields : -1;
}

/* The value of the field when it is set and of @type, else NULL. */
static const TrammelFieldValue *
value_set (const TrammelRecord *record, const char *key, TrammelFieldType type)
{
  g_return_val_if_fail (record != NULL, NULL);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0, NULL);
  g_return_val_if_fail (record->kind->fields[i].type == type, NULL);

  return record->values[i].set ? &record->values[i] : NULL;
}

TrammelRecord *
trammel_record_with_text (const TrammelRecord *record, const char *key, const char *text, const TrammelUnit *assumed,
                          GError **error)
{
  g_return_val_if_fail (record != NULL, NULL);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0, NULL);

  g_autoptr (TrammelRecord) made = copy (record);
  return set_from_text (made, (gsize)i, text, assumed, error) ? g_steal_pointer (&made) : NULL;
}

TrammelRecord *
trammel_record_with_integer (const TrammelRecord *record, const char *key, gint64 value, GError **error)
{
  g_return_val_if_fail (record != NULL, NULL);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0 && record->kind->fields[i].type == TRAMMEL_FIELD_INTEGER, NULL);

  if (!trammel_field_integer_fits (&record->kind->fields[i], value, error))
    return NULL;
  TrammelRecord *made = copy (record);
  made->values[i] = (TrammelFieldValue){ .set = TRUE, .integer = value };
  return made;
}

TrammelRecord *
trammel_record_with_integers (const TrammelRecord *record, const char *key, const gint64 *values, gsize n,
                              GError **error)
{
  g_return_val_if_fail (record != NULL, NULL);
  g_return_val_if_fail (values != NULL || n == 0, NULL);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0 && record->kind->fields[i].type == TRAMMEL_FIELD_INTEGERS, NULL);

  const TrammelField *field = &record->kind->fields[i];
  if (n > TRAMMEL_RECORD_MAX_INTEGERS)
    {
      g_autofree char *wanted = trammel_field_wanted (field);
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("found %u numbers; %s is wanted"),
                   (guint)MIN (n, G_MAXUINT), wanted);
      return NULL;
    }
  for (gsize k = 0; k < n; k++)
    if (!trammel_field_integer_fits (field, values[k], error))
      return NULL;

  TrammelRecord *made = copy (record);
  trammel_field_value_clear (field, &made->values[i]);
  made->values[i] = (TrammelFieldValue){ .set = TRUE, .list = { g_memdup2 (values, n * sizeof *values), n } };
  return made;
}

TrammelRecord *
trammel_record_with_pairs (const TrammelRecord *record, const char *key, const TrammelPair *pairs, gsize n,
                           GError **error)
{
  g_return_val_if_fail (record != NULL, NULL);
  g_return_val_if_fail (pairs != NULL || n == 0, NULL);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0 && record->kind->fields[i].type == TRAMMEL_FIELD_PAIRS, NULL);

  const TrammelField *field = &record->kind->fields[i];
  if (!trammel_field_pairs_fit (field, pairs, n, error))
    return NULL;

  TrammelRecord *made = copy (record);
  trammel_field_value_clear (field, &made->values[i]);
  if (n > 0)
    made->values[i] = (TrammelFieldValue){ .set = TRUE, .pairs = { g_memdup2 (pairs, n * sizeof *pairs), n } };
  return made;
}

TrammelRecord *
trammel_record_with_quantities (const TrammelRecord *record, const char *key, const TrammelQuantity *quantities,
                                gsize n, GError **error)
{
  g_return_val_if_fail (record != NULL, NULL);
  g_return_val_if_fail (quantities != NULL || n == 0, NULL);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0 && record->kind->fields[i].type == TRAMMEL_FIELD_QUANTITIES, NULL);

  const TrammelField *field = &record->kind->fields[i];
  if (!trammel_field_quantities_fit (field, quantities, n, error))
    return NULL;

  TrammelRecord *made = copy (record);
  trammel_field_value_clear (field, &made->values[i]);
  if (n > 0)
    made->values[i]
        = (TrammelFieldValue){ .set = TRUE, .quantities = { g_memdup2 (quantities, n * sizeof *quantities), n } };
  return made;
}

TrammelRecord *
trammel_record_with_flag (const TrammelRecord *record, const char *key, gboolean value)
{
  g_return_val_if_fail (record != NULL, NULL);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0 && record->kind->fields[i].type == TRAMMEL_FIELD_FLAG, NULL);

  TrammelRecord *made = copy (record);
  made->values[i] = (TrammelFieldValue){ .set = TRUE, .flag = value != FALSE };
  return made;
}

static gboolean
fail_missing (const TrammelField *field, GError **error)
{
  g_autofree char *wanted = trammel_field_wanted (field);
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("%s: not set; %s is wanted"), field->key, wanted);
  return FALSE;
}

gboolean
trammel_record_check (const TrammelRecord *record, GError **error)
{
  g_return_val_if_fail (record != NULL, FALSE);

  for (gsize i = 0; i < record->kind->n_fields; i++)
    if (record->kind->fields[i].required && !record->values[i].set)
      return fail_missing (&record->kind->fields[i], error);
  return record->kind->check == NULL || record->kind->check (record, error);
}

gboolean
trammel_record_has (const TrammelRecord *record, const char *key)
{
  g_return_val_if_fail (record != NULL, FALSE);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0, FALSE);

  return record->values[i].set;
}

gint64
trammel_record_integer (const TrammelRecord *record, const char *key)
{
  const TrammelFieldValue *value = value_set (record, key, TRAMMEL_FIELD_INTEGER);
  return value != NULL ? value->integer : 0;
}

const gint64 *
trammel_record_integers (const TrammelRecord *record, const char *key, gsize *n)
{
  g_return_val_if_fail (n != NULL, NULL);

  const TrammelFieldValue *value = value_set (record, key, TRAMMEL_FIELD_INTEGERS);
  *n = value != NULL ? value->list.n : 0;
  return value != NULL ? value->list.values : NULL;
}

const TrammelPair *
trammel_record_pairs (const TrammelRecord *record, const char *key, gsize *n)
{
  g_return_val_if_fail (n != NULL, NULL);

  const TrammelFieldValue *value = value_set (record, key, TRAMMEL_FIELD_PAIRS);
  *n = value != NULL ? value->pairs.n : 0;
  return value != NULL ? value->pairs.values : NULL;
}

const TrammelQuantity *
trammel_record_quantities (const TrammelRecord *record, const char *key, gsize *n)
{
  g_return_val_if_fail (n != NULL, NULL);

  const TrammelFieldValue *value = value_set (record, key, TRAMMEL_FIELD_QUANTITIES);
  *n = value != NULL ? value->quantities.n : 0;
  return value != NULL ? value->quantities.values : NULL;
}

double
trammel_record_value (const TrammelRecord *record, const char *key)
{
  g_return_val_if_fail (record != NULL, NAN);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0, NAN);

  const TrammelFieldValue *value = &record->values[i];
  if (!value->set)
    return NAN;
  switch (record->kind->fields[i].type)
    {
    case TRAMMEL_FIELD_INTEGER:
      return (double)value->integer;
    case TRAMMEL_FIELD_EXACT:
      return trammel_exact_to_double (value->exact);
    case TRAMMEL_FIELD_QUANTITY:
      return trammel_quantity_value (value->quantity);
    case TRAMMEL_FIELD_INTEGERS:
    case TRAMMEL_FIELD_CHOICE:
    case TRAMMEL_FIELD_FLAG:
    case TRAMMEL_FIELD_TEXT:
    case TRAMMEL_FIELD_QUANTITIES:
    case TRAMMEL_FIELD_PAIRS:
    default:
      g_return_val_if_reached (NAN);
    }
}

double
trammel_record_value_or (const TrammelRecord *record, const char *key, double usual)
{
  const double value = trammel_record_value (record, key);
  return isnan (value) ? usual : value;
}

gboolean
trammel_record_exact (const TrammelRecord *record, const char *key, TrammelExact *out, GError **error)
{
  g_return_val_if_fail (record != NULL && out != NULL, FALSE);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0, FALSE);

  const TrammelFieldValue *value = &record->values[i];
  if (!value->set)
    {
      g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_RANGE, _ ("%s is not set"), key);
      return FALSE;
    }
  switch (record->kind->fields[i].type)
    {
    case TRAMMEL_FIELD_INTEGER:
      *out = trammel_exact_integer (value->integer);
      return TRUE;
    case TRAMMEL_FIELD_EXACT:
      *out = value->exact;
      return TRUE;
    case TRAMMEL_FIELD_QUANTITY:
      return trammel_quantity_base (value->quantity, out, error);
    case TRAMMEL_FIELD_INTEGERS:
    case TRAMMEL_FIELD_CHOICE:
    case TRAMMEL_FIELD_FLAG:
    case TRAMMEL_FIELD_TEXT:
    case TRAMMEL_FIELD_QUANTITIES:
    case TRAMMEL_FIELD_PAIRS:
    default:
      g_return_val_if_reached (FALSE);
    }
}

gboolean
trammel_record_quantity (const TrammelRecord *record, const char *key, TrammelQuantity *out)
{
  g_return_val_if_fail (out != NULL, FALSE);

  const TrammelFieldValue *value = value_set (record, key, TRAMMEL_FIELD_QUANTITY);
  if (value == NULL)
    return FALSE;
  *out = value->quantity;
  return TRUE;
}

gboolean
trammel_record_flag (const TrammelRecord *record, const char *key)
{
  const TrammelFieldValue *value = value_set (record, key, TRAMMEL_FIELD_FLAG);
  return value != NULL && value->flag;
}

const char *
trammel_record_choice (const TrammelRecord *record, const char *key)
{
  const TrammelFieldValue *value = value_set (record, key, TRAMMEL_FIELD_CHOICE);
  return value != NULL ? trammel_record_kind_field (record->kind, key)->choices[value->choice] : NULL;
}

const char *
trammel_record_string (const TrammelRecord *record, const char *key)
{
  const TrammelFieldValue *value = value_set (record, key, TRAMMEL_FIELD_TEXT);
  return value != NULL ? value->text : NULL;
}

char *
trammel_record_text (const TrammelRecord *record, const char *key)
{
  g_return_val_if_fail (record != NULL, NULL);
  const gssize i = field_index (record, key);
  g_return_val_if_fail (i >= 0, NULL);

  return record->values[i].set ? trammel_field_text (&record->kind->fields[i], &record->values[i]) : NULL;
}

const char *
trammel_record_extra (const TrammelRecord *record)
{
  g_return_val_if_fail (record != NULL, NULL);

  return record->extra;
}

TrammelRecord *
trammel_record_with_extra (const TrammelRecord *record, const char *extra)
{
  g_return_val_if_fail (record != NULL, NULL);

  TrammelRecord *made = copy (record);
  g_free (made->extra);
  made->extra = g_strdup (extra);
  return made;
}
