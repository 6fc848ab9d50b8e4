/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/codec-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "base/number.h"

static void
append_place (GString *text, const TrammelPlace *place)
{
  if (!place)
    return;
  append_place (text, place->up);
  if (!place->name)
    g_string_append_printf (text, "[%zu]", place->index);
  else
    g_string_append_printf (text, "%s%s", text->len > 0 ? "." : "", place->name);
}

/* "axes[0].stages[1].driver: ", "" for the whole file. */
static char *
place_prefix (const TrammelPlace *place)
{
  GString *text = g_string_new (NULL);

  append_place (text, place);
  if (text->len > 0)
    g_string_append (text, ": ");
  return g_string_free (text, FALSE);
}

static char *
describe (TrammelJson value)
{
  switch (trammel_json_type (value))
    {
    case TRAMMEL_JSON_ARRAY:
      return g_strdup (_ ("a list"));
    case TRAMMEL_JSON_OBJECT:
      return g_strdup (_ ("an object"));
    default:
      return trammel_error_excerpt (value.text, (gssize)value.length);
    }
}

gboolean
trammel_codec_refuse (const TrammelPlace *place, const TrammelJson *value, int code, const char *wanted, GError **error)
{
  g_autofree char *prefix = place_prefix (place);
  g_autofree char *found = value ? describe (*value) : NULL;

  if (found)
    g_set_error (error, TRAMMEL_ERROR, code, _ ("%sfound %s; %s is wanted"), prefix, found, wanted);
  else
    g_set_error (error, TRAMMEL_ERROR, code, _ ("%smissing; %s is wanted"), prefix, wanted);
  return FALSE;
}

gboolean
trammel_codec_refuse_because (const TrammelPlace *place, GError *why, GError **error)
{
  g_autofree char *prefix = place_prefix (place);

  g_propagate_prefixed_error (error, why, "%s", prefix);
  return FALSE;
}

gboolean
trammel_codec_open_object (const TrammelPlace *place, TrammelJson value, const char *wanted, TrammelJsonObject *object,
                           GError **error)
{
  g_autofree char *twice = NULL;
  g_autofree char *prefix = NULL;

  object->n = 0;
  if (!trammel_json_is (value, TRAMMEL_JSON_OBJECT))
    return trammel_codec_refuse (place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  if (trammel_json_object_open (value, object, &twice))
    return TRUE;
  prefix = place_prefix (&(TrammelPlace){ place, twice, 0 });
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_FORMAT, _ ("%sfound twice; each member is wanted once"), prefix);
  return FALSE;
}

gboolean
trammel_codec_open_array (const TrammelPlace *place, TrammelJson value, const char *wanted,
                          TrammelJsonElements *elements, GError **error)
{
  if (!trammel_json_is (value, TRAMMEL_JSON_ARRAY))
    return trammel_codec_refuse (place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  trammel_json_elements (value, elements);
  return TRUE;
}

gboolean
trammel_codec_read_text (const TrammelPlace *place, TrammelJson value, const char *wanted, char **out, GError **error)
{
  if (!trammel_json_is (value, TRAMMEL_JSON_STRING))
    return trammel_codec_refuse (place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  *out = trammel_json_string (value);
  return TRUE;
}

gboolean
trammel_codec_read_number (const TrammelPlace *place, TrammelJson value, double low, double high, const char *wanted,
                           double *out, GError **error)
{
  double number;

  if (!trammel_json_is (value, TRAMMEL_JSON_NUMBER))
    return trammel_codec_refuse (place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  if (!trammel_number_from_text (value.text, (gssize)value.length, FALSE, &number) || !(number >= low)
      || !(number <= high))
    return trammel_codec_refuse (place, &value, TRAMMEL_ERROR_RANGE, wanted, error);
  *out = number;
  return TRUE;
}
