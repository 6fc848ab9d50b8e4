/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/codec-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

static const TrammelRecordKind *
find_kind (const TrammelRecordKind *const *kinds, gsize n, const char *type)
{
  for (gsize i = 0; i < n; i++)
    if (g_str_equal (kinds[i]->type, type))
      return kinds[i];
  return NULL;
}

static char *
list_types (const TrammelRecordKind *const *kinds, gsize n)
{
  GString *list = g_string_new (NULL);

  for (gsize i = 0; i < n; i++)
    g_string_append_printf (list, "%s%s", i == 0 ? "" : i + 1 == n ? _ (" or ") : ", ", kinds[i]->type);
  return g_string_free (list, FALSE);
}

static const TrammelRecordKind *
read_kind (const TrammelPlace *record, TrammelJsonObject *members, const TrammelRecordKind *const *kinds, gsize n,
           GError **error)
{
  TrammelPlace place = { record, "type", 0 };
  g_autofree char *types = list_types (kinds, n);
  g_autofree char *type = NULL;
  TrammelJson value;
  const TrammelRecordKind *kind;

  if (!trammel_json_object_take (members, "type", &value))
    {
      trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, types, error);
      return NULL;
    }
  if (!trammel_codec_read_text (&place, value, types, &type, error))
    return NULL;
  kind = find_kind (kinds, n, type);
  if (!kind)
    trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, types, error);
  return kind;
}

static const char *
wanted_for (const TrammelField *field)
{
  switch (field->type)
    {
    case TRAMMEL_FIELD_INTEGER:
      return _ ("a whole number");
    case TRAMMEL_FIELD_INTEGERS:
      return _ ("a list of whole numbers");
    case TRAMMEL_FIELD_EXACT:
      return _ ("a number, or text such as “57/11”,");
    case TRAMMEL_FIELD_QUANTITY:
      return _ ("a number, or text with number and unit,");
    case TRAMMEL_FIELD_FLAG:
      return _ ("true or false");
    case TRAMMEL_FIELD_QUANTITIES:
      return _ ("a number, text with number and unit, or a list of them");
    case TRAMMEL_FIELD_PAIRS:
      return _ ("a list of pairs");
    case TRAMMEL_FIELD_CHOICE:
    case TRAMMEL_FIELD_TEXT:
    default:
      return _ ("text");
    }
}

static gboolean
type_fits (const TrammelField *field, TrammelJson value)
{
  switch (trammel_json_type (value))
    {
    case TRAMMEL_JSON_BOOLEAN:
      return field->type == TRAMMEL_FIELD_FLAG;
    case TRAMMEL_JSON_NUMBER:
      return field->type == TRAMMEL_FIELD_INTEGER || field->type == TRAMMEL_FIELD_EXACT
             || field->type == TRAMMEL_FIELD_QUANTITY || field->type == TRAMMEL_FIELD_QUANTITIES;
    case TRAMMEL_JSON_STRING:
      return field->type == TRAMMEL_FIELD_EXACT || field->type == TRAMMEL_FIELD_QUANTITY
             || field->type == TRAMMEL_FIELD_QUANTITIES || field->type == TRAMMEL_FIELD_CHOICE
             || field->type == TRAMMEL_FIELD_TEXT;
    case TRAMMEL_JSON_ARRAY:
      return field->type == TRAMMEL_FIELD_INTEGERS || field->type == TRAMMEL_FIELD_QUANTITIES
             || field->type == TRAMMEL_FIELD_PAIRS;
    case TRAMMEL_JSON_NULL:
      return field->type != TRAMMEL_FIELD_INTEGERS;
    case TRAMMEL_JSON_OBJECT:
    default:
      return FALSE;
    }
}

static TrammelRecord *
read_list (const TrammelPlace *list, const TrammelRecord *record, const char *key, TrammelJson value, GError **error)
{
  gint64 numbers[TRAMMEL_RECORD_MAX_INTEGERS + 1];
  TrammelJsonElements elements;
  TrammelJson element;
  TrammelRecord *changed;
  GError *why = NULL;
  gsize n = 0;

  trammel_json_elements (value, &elements);
  while (n < G_N_ELEMENTS (numbers) && trammel_json_next (&elements, &element))
    {
      TrammelPlace place = { list, NULL, n };
      g_autoptr (TrammelRecord) single = NULL;
      g_autofree char *text = trammel_json_scalar (element);
      TrammelExact exact;

      if (!trammel_json_is (element, TRAMMEL_JSON_NUMBER) || !trammel_exact_parse (text, &exact, NULL)
          || exact.den != 1)
        {
          trammel_codec_refuse (&place, &element, TRAMMEL_ERROR_FORMAT, _ ("a whole number"), error);
          return NULL;
        }
      /* Alone first, so that the place of the one that is out of bounds can be told. */
      single = trammel_record_with_integers (record, key, &exact.num, 1, &why);
      if (!single)
        {
          trammel_codec_refuse_because (&place, why, error);
          return NULL;
        }
      numbers[n++] = exact.num;
    }
  changed = trammel_record_with_integers (record, key, numbers, n, &why);
  if (!changed)
    trammel_codec_refuse_because (list, why, error);
  return changed;
}

/* One of a pair or of a list: a number or text with number and unit. */
static gboolean
read_quantity (const TrammelPlace *list, gsize i, TrammelJson value, TrammelDimension dimension, TrammelQuantity *out,
               GError **error)
{
  TrammelPlace place = { list, NULL, i };
  g_autofree char *text = NULL;
  GError *why = NULL;

  if (!trammel_json_is (value, TRAMMEL_JSON_NUMBER) && !trammel_json_is (value, TRAMMEL_JSON_STRING))
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, _ ("a number, or text with number and unit,"),
                                 error);
  text = trammel_json_scalar (value);
  return trammel_quantity_parse (text, dimension, NULL, out, &why) || trammel_codec_refuse_because (&place, why, error);
}

static gboolean
read_pair (const TrammelPlace *place, const TrammelField *field, TrammelJson value, TrammelPair *out, GError **error)
{
  TrammelJsonElements halves;
  TrammelJson first, second;

  if (!trammel_json_is (value, TRAMMEL_JSON_ARRAY) || trammel_json_count (value) != 2)
    return trammel_codec_refuse (place, &value, TRAMMEL_ERROR_FORMAT, _ ("a pair such as [\"600 rpm\", \"0.2 N·m\"]"),
                                 error);
  trammel_json_elements (value, &halves);
  return trammel_json_next (&halves, &first) && trammel_json_next (&halves, &second)
         && read_quantity (place, 0, first, field->dimension, &out->first, error)
         && read_quantity (place, 1, second, field->other_dimension, &out->second, error);
}

static TrammelRecord *
read_quantities (const TrammelPlace *list, const TrammelRecord *record, const TrammelField *field, TrammelJson value,
                 GError **error)
{
  TrammelQuantity quantities[TRAMMEL_RECORD_MAX_QUANTITIES + 1];
  TrammelJsonElements elements;
  TrammelJson element;
  TrammelRecord *changed;
  GError *why = NULL;
  gsize n = 0;

  trammel_json_elements (value, &elements);
  while (n < G_N_ELEMENTS (quantities) && trammel_json_next (&elements, &element))
    {
      TrammelPlace place = { list, NULL, n };
      g_autoptr (TrammelRecord) single = NULL;

      if (!read_quantity (list, n, element, field->dimension, &quantities[n], error))
        return NULL;
      /* Alone first, as for whole numbers. */
      single = trammel_record_with_quantities (record, field->key, &quantities[n], 1, &why);
      if (!single)
        {
          trammel_codec_refuse_because (&place, why, error);
          return NULL;
        }
      n++;
    }
  changed = trammel_record_with_quantities (record, field->key, quantities, n, &why);
  if (!changed)
    trammel_codec_refuse_because (list, why, error);
  return changed;
}

static TrammelRecord *
read_pairs (const TrammelPlace *list, const TrammelRecord *record, const TrammelField *field, TrammelJson value,
            GError **error)
{
  TrammelPair pairs[TRAMMEL_RECORD_MAX_PAIRS + 1];
  TrammelJsonElements elements;
  TrammelJson element;
  TrammelRecord *changed;
  GError *why = NULL;
  gsize n = 0;

  trammel_json_elements (value, &elements);
  while (n < G_N_ELEMENTS (pairs) && trammel_json_next (&elements, &element))
    {
      TrammelPlace place = { list, NULL, n };

      if (!read_pair (&place, field, element, &pairs[n], error))
        return NULL;
      n++;
    }
  changed = trammel_record_with_pairs (record, field->key, pairs, n, &why);
  if (!changed)
    trammel_codec_refuse_because (list, why, error);
  return changed;
}

static gboolean
is_blank (const char *text)
{
  return text && text[strspn (text, " \t\r\n")] == '\0';
}

/* @record with @field set to @value; NULL with @error set. */
static TrammelRecord *
with_field (const TrammelPlace *place, const TrammelRecord *record, const TrammelField *field, TrammelJson value,
            GError **error)
{
  g_autofree char *text = NULL;
  TrammelRecord *changed;
  GError *why = NULL;

  if (!type_fits (field, value))
    {
      trammel_codec_refuse (place, &value, TRAMMEL_ERROR_FORMAT, wanted_for (field), error);
      return NULL;
    }
  if (field->type == TRAMMEL_FIELD_INTEGERS)
    return read_list (place, record, field->key, value, error);
  if (trammel_json_is (value, TRAMMEL_JSON_ARRAY))
    return (field->type == TRAMMEL_FIELD_PAIRS ? read_pairs : read_quantities) (place, record, field, value, error);
  if (trammel_json_is (value, TRAMMEL_JSON_BOOLEAN))
    return trammel_record_with_flag (record, field->key, trammel_json_is_true (value));
  if (!trammel_json_is (value, TRAMMEL_JSON_NULL))
    text = trammel_json_scalar (value);
  if (is_blank (text) && field->type != TRAMMEL_FIELD_TEXT)
    {
      trammel_codec_refuse (place, &value, TRAMMEL_ERROR_FORMAT, wanted_for (field), error);
      return NULL;
    }
  changed = trammel_record_with_text (record, field->key, text, NULL, &why);
  if (!changed)
    trammel_codec_refuse_because (place, why, error);
  return changed;
}

/* What a field stands for where a file leaves it out; NULL: nothing. */
static const char *
meaning_when_left_out (const TrammelRecordKind *kind, const TrammelField *field)
{
  /* Key NULL: all, as in a new record. */
  static const struct
  {
    const char *type, *key, *text;
  } rows[] = {
    { "screw", "starts", "1" }, { "screw", "hand", "right" },   { "screw", "turning", "screw" },
    { "screw", "count", "1" },  { "worm-rack", "starts", "1" }, { "belt", "fall", "1" },
    { "worm", "starts", "1" },  { "worm", "hand", "right" },    { "internal", "ring", "driven" },
    { "square", NULL, NULL },   { "ladder", NULL, NULL },
  };

  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_str_equal (kind->type, rows[i].type) && (!rows[i].key || g_str_equal (field->key, rows[i].key)))
      return rows[i].key ? rows[i].text : field->initial;
  return NULL;
}

/* @record with @field as the file has it or leaves it out; NULL with @error set. */
static TrammelRecord *
read_field (const TrammelPlace *record_place, TrammelJsonObject *members, const TrammelRecord *record,
            const TrammelField *field, GError **error)
{
  TrammelPlace place = { record_place, field->key, 0 };
  const char *meaning = meaning_when_left_out (trammel_record_kind (record), field);
  TrammelJson value;

  if (trammel_json_object_take (members, field->key, &value))
    return with_field (&place, record, field, value, error);
  if (meaning || !field->required)
    return trammel_record_with_text (record, field->key, meaning, NULL, error);
  trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, wanted_for (field), error);
  return NULL;
}

/* The members of a record of @kind; NULL with @error set. */
static TrammelRecord *
read_members (const TrammelPlace *place, TrammelJsonObject *members, const TrammelRecordKind *kind, GError **error)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (kind);
  g_autofree char *extra = NULL;

  for (gsize i = 0; i < kind->n_fields; i++)
    {
      TrammelRecord *changed = read_field (place, members, record, &kind->fields[i], error);

      if (!changed)
        return NULL;
      trammel_record_unref (record);
      record = changed;
    }
  extra = trammel_json_object_rest (members);
  return extra ? trammel_record_with_extra (record, extra) : g_steal_pointer (&record);
}

TrammelRecord *
trammel_codec_read_record (const TrammelPlace *place, TrammelJson value, const TrammelRecordKind *const *kinds,
                           gsize n_kinds, GError **error)
{
  g_auto (TrammelJsonObject) members = { 0 };
  const TrammelRecordKind *kind;

  if (!trammel_codec_open_object (place, value, _ ("an object with a type"), &members, error))
    return NULL;
  kind = read_kind (place, &members, kinds, n_kinds, error);
  return kind ? read_members (place, &members, kind, error) : NULL;
}

TrammelRecord *
trammel_codec_read_record_of (const TrammelPlace *place, TrammelJson value, const TrammelRecordKind *kind,
                              GError **error)
{
  g_auto (TrammelJsonObject) members = { 0 };
  const TrammelRecordKind *named = kind;

  if (!trammel_codec_open_object (place, value, _ ("an object"), &members, error))
    return NULL;
  if (trammel_json_object_has (&members, "type"))
    named = read_kind (place, &members, &kind, 1, error);
  return named ? read_members (place, &members, named, error) : NULL;
}

static void
write_list (TrammelJsonWriter *writer, const TrammelRecord *record, const char *key)
{
  gsize n;
  const gint64 *numbers = trammel_record_integers (record, key, &n);

  trammel_json_writer_open (writer, key, '[', TRUE);
  for (gsize i = 0; i < n; i++)
    trammel_json_writer_integer (writer, NULL, numbers[i]);
  trammel_json_writer_close (writer, ']');
}

/* One alone is written as one. */
static void
write_quantities (TrammelJsonWriter *writer, const TrammelRecord *record, const char *key)
{
  gsize n;
  const TrammelQuantity *quantities = trammel_record_quantities (record, key, &n);

  if (n > 1)
    trammel_json_writer_open (writer, key, '[', TRUE);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *text = trammel_quantity_to_text (quantities[i]);
      trammel_json_writer_string (writer, n > 1 ? NULL : key, text);
    }
  if (n > 1)
    trammel_json_writer_close (writer, ']');
}

static void
write_pairs (TrammelJsonWriter *writer, const TrammelRecord *record, const char *key)
{
  gsize n;
  const TrammelPair *pairs = trammel_record_pairs (record, key, &n);

  trammel_json_writer_open (writer, key, '[', TRUE);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *first = trammel_quantity_to_text (pairs[i].first);
      g_autofree char *second = trammel_quantity_to_text (pairs[i].second);

      trammel_json_writer_open (writer, NULL, '[', TRUE);
      trammel_json_writer_string (writer, NULL, first);
      trammel_json_writer_string (writer, NULL, second);
      trammel_json_writer_close (writer, ']');
    }
  trammel_json_writer_close (writer, ']');
}

static void
write_field (TrammelJsonWriter *writer, const TrammelRecord *record, const TrammelField *field)
{
  g_autofree char *text = NULL;

  /* What was cleared on purpose must not come back as the initial value. */
  if (!trammel_record_has (record, field->key))
    {
      if (field->required || meaning_when_left_out (trammel_record_kind (record), field))
        trammel_json_writer_null (writer, field->key);
      return;
    }
  switch (field->type)
    {
    case TRAMMEL_FIELD_INTEGER:
      trammel_json_writer_integer (writer, field->key, trammel_record_integer (record, field->key));
      return;
    case TRAMMEL_FIELD_INTEGERS:
      write_list (writer, record, field->key);
      return;
    case TRAMMEL_FIELD_QUANTITIES:
      write_quantities (writer, record, field->key);
      return;
    case TRAMMEL_FIELD_PAIRS:
      write_pairs (writer, record, field->key);
      return;
    case TRAMMEL_FIELD_FLAG:
      trammel_json_writer_flag (writer, field->key, trammel_record_flag (record, field->key));
      return;
    case TRAMMEL_FIELD_EXACT:
    case TRAMMEL_FIELD_QUANTITY:
    case TRAMMEL_FIELD_CHOICE:
    case TRAMMEL_FIELD_TEXT:
    default:
      text = trammel_record_text (record, field->key);
      trammel_json_writer_string (writer, field->key, text);
      return;
    }
}

void
trammel_codec_write_record (TrammelJsonWriter *writer, const char *name, const TrammelRecord *record,
                            gboolean on_one_line)
{
  const TrammelRecordKind *kind = trammel_record_kind (record);

  trammel_json_writer_open (writer, name, '{', on_one_line);
  trammel_json_writer_string (writer, "type", kind->type);
  for (gsize i = 0; i < kind->n_fields; i++)
    write_field (writer, record, &kind->fields[i]);
  trammel_json_writer_members (writer, trammel_record_extra (record));
  trammel_json_writer_close (writer, '}');
}
