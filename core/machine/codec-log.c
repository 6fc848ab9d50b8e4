/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/codec-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"

/* A log has one entry per adoption, with one change per axis. */
#define MOST_CHANGES TRAMMEL_MAX_AXES
#define GREATEST_LASH 1e9

/* A number that may be left out or null (then it is what it was). */
static gboolean
read_optional (const TrammelPlace *up, TrammelJsonObject *members, const char *name, double low, double *out,
               GError **error)
{
  TrammelPlace place = { up, name, 0 };
  TrammelJson value;

  if (!trammel_json_object_take (members, name, &value) || trammel_json_is (value, TRAMMEL_JSON_NULL))
    return TRUE;
  return trammel_codec_read_number (&place, value, low, G_MAXDOUBLE,
                                    low == 0 ? _ ("a number of 0 or more") : _ ("a number"), out, error);
}

static gboolean
read_required_text (const TrammelPlace *up, TrammelJsonObject *members, const char *name, const char *wanted,
                    TrammelJson *value, char **out, GError **error)
{
  TrammelPlace place = { up, name, 0 };

  if (!trammel_json_object_take (members, name, value))
    return trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, wanted, error);
  return trammel_codec_read_text (&place, *value, wanted, out, error);
}

static gboolean
read_required (const TrammelPlace *up, TrammelJsonObject *members, const char *name, double low, double high,
               const char *wanted, double *out, GError **error)
{
  TrammelPlace place = { up, name, 0 };
  TrammelJson value;

  if (!trammel_json_object_take (members, name, &value))
    return trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, wanted, error);
  return trammel_codec_read_number (&place, value, low, high, wanted, out, error);
}

static gboolean
read_lash (const TrammelPlace *up, TrammelJsonObject *members, TrammelLogChange *change, GError **error)
{
  TrammelPlace place = { up, "lash", 0 };
  g_auto (TrammelJsonObject) lash = { 0 };
  TrammelJson value;

  if (!trammel_json_object_take (members, "lash", &value) || trammel_json_is (value, TRAMMEL_JSON_NULL))
    return TRUE;
  if (!trammel_codec_open_object (&place, value, _ ("an object with value and u"), &lash, error)
      || !read_required (&place, &lash, "value", -GREATEST_LASH, GREATEST_LASH, _ ("a number within ±1e9"),
                         &change->lash.value, error)
      || !read_required (&place, &lash, "u", 0, GREATEST_LASH, _ ("a number of 0 or more"), &change->lash.u, error))
    return FALSE;
  change->lash.extra = trammel_json_object_rest (&lash);
  change->has_lash = TRUE;
  return TRUE;
}

/* A whole number within @low…@high. */
static gboolean
read_count (const TrammelPlace *up, TrammelJsonObject *members, const char *name, gint64 low, gint64 high, gint64 *out,
            GError **error)
{
  TrammelPlace place = { up, name, 0 };
  g_autofree char *wanted = g_strdup_printf (_ ("a whole number from %d to %d"), (int)low, (int)high);
  TrammelJson value;
  double number;

  if (!trammel_json_object_take (members, name, &value))
    return trammel_codec_refuse (&place, NULL, TRAMMEL_ERROR_FORMAT, wanted, error);
  if (!trammel_codec_read_number (&place, value, (double)low, (double)high, wanted, &number, error))
    return FALSE;
  if (number != floor (number))
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  *out = (gint64)number;
  return TRUE;
}

/* May be left out where all homes came the same way. */
static gboolean
read_dof (const TrammelPlace *up, TrammelJsonObject *home, TrammelLogHome *out, GError **error)
{
  out->dof = out->n - 1;
  return !trammel_json_object_has (home, "dof") || read_count (up, home, "dof", 1, out->n - 1, &out->dof, error);
}

static gboolean
read_home (const TrammelPlace *up, TrammelJsonObject *members, TrammelLogChange *change, GError **error)
{
  TrammelPlace place = { up, "home", 0 };
  g_auto (TrammelJsonObject) home = { 0 };
  TrammelJson value;

  if (!trammel_json_object_take (members, "home", &value) || trammel_json_is (value, TRAMMEL_JSON_NULL))
    return TRUE;
  if (!trammel_codec_open_object (&place, value, _ ("an object with s and n"), &home, error)
      || !read_required (&place, &home, "s", 0, GREATEST_LASH, _ ("a number of 0 or more"), &change->home.s, error)
      || !read_count (&place, &home, "n", 2, TRAMMEL_MAX_READINGS, &change->home.n, error)
      || !read_dof (&place, &home, &change->home, error))
    return FALSE;
  change->home.extra = trammel_json_object_rest (&home);
  change->has_home = TRUE;
  return TRUE;
}

static gboolean
read_change_members (const TrammelPlace *place, TrammelJsonObject *members, TrammelLogChange *change, GError **error)
{
  g_autofree char *letter = NULL;
  TrammelPlace here = { place, "letter", 0 };
  TrammelJson value;

  if (!read_required_text (place, members, "letter", _ ("a letter from A to Z"), &value, &letter, error))
    return FALSE;
  if (!g_ascii_isupper (letter[0]) || letter[1] != '\0')
    return trammel_codec_refuse (&here, &value, TRAMMEL_ERROR_FORMAT, _ ("a letter from A to Z"), error);
  change->letter = letter[0];
  if (!read_optional (place, members, "before", 0, &change->before, error)
      || !read_optional (place, members, "before_u", 0, &change->before_u, error)
      || !read_optional (place, members, "after", 0, &change->after, error)
      || !read_optional (place, members, "after_u", 0, &change->after_u, error)
      || !read_optional (place, members, "nominal", 0, &change->nominal, error)
      || !read_lash (place, members, change, error) || !read_home (place, members, change, error))
    return FALSE;
  change->extra = trammel_json_object_rest (members);
  return TRUE;
}

/* (transfer full): a GArray of TrammelLogChange. */
static GArray *
read_changes (const TrammelPlace *entry, TrammelJsonObject *members, GError **error)
{
  g_autoptr (GArray) changes = g_array_new (FALSE, FALSE, sizeof (TrammelLogChange));
  TrammelPlace list = { entry, "changes", 0 };
  TrammelPlace place = { &list, NULL, 0 };
  TrammelJsonElements elements;
  TrammelJson value;

  g_array_set_clear_func (changes, (GDestroyNotify)trammel_log_change_clear);
  if (!trammel_json_object_take (members, "changes", &value))
    return g_steal_pointer (&changes);
  if (!trammel_codec_open_array (&list, value, _ ("a list of changes"), &elements, error))
    return NULL;
  for (; trammel_json_next (&elements, &value); place.index++)
    {
      g_auto (TrammelJsonObject) change_members = { 0 };
      TrammelLogChange change = { .before = NAN, .before_u = NAN, .after = NAN, .after_u = NAN };

      if (place.index == MOST_CHANGES)
        {
          trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_TOO_LARGE, _ ("at most one change per axis"), error);
          return NULL;
        }
      if (!trammel_codec_open_object (&place, value, _ ("an object with letter, before and after"), &change_members,
                                      error)
          || !read_change_members (&place, &change_members, &change, error))
        {
          trammel_log_change_clear (&change);
          return NULL;
        }
      g_array_append_val (changes, change);
    }
  return g_steal_pointer (&changes);
}

static gboolean
read_scatter (const TrammelPlace *entry, TrammelJsonObject *members, char **out, GError **error)
{
  TrammelPlace place = { entry, "scatter", 0 };
  const char *wanted = _ ("“stated” or “estimated”");
  g_autofree char *scatter = NULL;
  TrammelJson value;

  if (!trammel_json_object_take (members, "scatter", &value))
    return TRUE;
  if (!trammel_codec_read_text (&place, value, wanted, &scatter, error))
    return FALSE;
  if (!g_str_equal (scatter, "stated") && !g_str_equal (scatter, "estimated"))
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  g_free (*out);
  *out = g_steal_pointer (&scatter);
  return TRUE;
}

static gboolean
read_fit (const TrammelPlace *place, TrammelJsonObject *members, TrammelLogEntry *entry, GError **error)
{
  double dof = 0;

  if (!read_scatter (place, members, &entry->scatter, error) || !read_optional (place, members, "dof", 0, &dof, error)
      || !read_optional (place, members, "chi2", 0, &entry->chi2, error)
      || !read_optional (place, members, "p_value", 0, &entry->p_value, error)
      || !read_optional (place, members, "birge", 0, &entry->birge, error))
    return FALSE;
  /* Beyond 2^53 a double is no count. */
  entry->dof = (gint64)MIN (dof, 9007199254740992.0);
  return TRUE;
}

static gboolean
read_entry_readings (const TrammelPlace *entry, TrammelJsonObject *members, const char *name,
                     const TrammelReadingUnits *units, TrammelReadings **out, GError **error)
{
  TrammelPlace place = { entry, name, 0 };
  TrammelReadings *readings;
  TrammelJson value;

  if (!trammel_json_object_take (members, name, &value))
    return TRUE;
  readings = trammel_codec_read_readings (&place, value, units, error);
  if (!readings)
    return FALSE;
  trammel_readings_unref (*out);
  *out = readings;
  return TRUE;
}

static gboolean
read_time (const TrammelPlace *entry, TrammelJsonObject *members, char **out, GError **error)
{
  TrammelPlace place = { entry, "time", 0 };
  const char *wanted = _ ("date and time such as “2026-11-25T09:36:00Z”");
  g_autofree char *time = NULL;
  g_autoptr (GDateTime) parsed = NULL;
  TrammelJson value;

  if (!read_required_text (entry, members, "time", wanted, &value, &time, error))
    return FALSE;
  parsed = g_date_time_new_from_iso8601 (time, NULL);
  if (!parsed)
    return trammel_codec_refuse (&place, &value, TRAMMEL_ERROR_FORMAT, wanted, error);
  *out = g_steal_pointer (&time);
  return TRUE;
}

static gboolean
read_note (const TrammelPlace *entry, TrammelJsonObject *members, char **out, GError **error)
{
  TrammelPlace place = { entry, "note", 0 };
  TrammelJson value;

  if (!trammel_json_object_take (members, "note", &value) || trammel_json_is (value, TRAMMEL_JSON_NULL))
    return TRUE;
  return trammel_codec_read_text (&place, value, _ ("text"), out, error);
}

TrammelLogEntry *
trammel_codec_read_log_entry (const TrammelPlace *place, TrammelJson value, const TrammelReadingUnits *units,
                              GError **error)
{
  g_auto (TrammelJsonObject) members = { 0 };
  g_autoptr (TrammelLogEntry) entry = NULL;
  g_autoptr (GArray) changes = NULL;
  g_autofree char *time = NULL;

  if (!trammel_codec_open_object (place, value, _ ("an object with time and changes"), &members, error)
      || !read_time (place, &members, &time, error))
    return NULL;
  changes = read_changes (place, &members, error);
  if (!changes)
    return NULL;
  entry = trammel_log_entry_new (time, (const TrammelLogChange *)(gpointer)changes->data, changes->len);
  if (!read_fit (place, &members, entry, error) || !read_note (place, &members, &entry->note, error)
      || !read_entry_readings (place, &members, "readings", units, &entry->readings, error)
      || !read_entry_readings (place, &members, "set_aside", units, &entry->set_aside, error))
    return NULL;
  entry->extra = trammel_json_object_rest (&members);
  return g_steal_pointer (&entry);
}

static void
write_found (TrammelJsonWriter *writer, const TrammelLogChange *change)
{
  if (change->nominal > 0)
    trammel_json_writer_number (writer, "nominal", change->nominal);
  if (change->has_lash)
    {
      trammel_json_writer_open (writer, "lash", '{', TRUE);
      trammel_json_writer_number (writer, "value", change->lash.value);
      trammel_json_writer_number (writer, "u", change->lash.u);
      trammel_json_writer_members (writer, change->lash.extra);
      trammel_json_writer_close (writer, '}');
    }
  if (change->has_home)
    {
      trammel_json_writer_open (writer, "home", '{', TRUE);
      trammel_json_writer_number (writer, "s", change->home.s);
      trammel_json_writer_integer (writer, "n", change->home.n);
      trammel_json_writer_integer (writer, "dof", change->home.dof);
      trammel_json_writer_members (writer, change->home.extra);
      trammel_json_writer_close (writer, '}');
    }
}

static void
write_changes (TrammelJsonWriter *writer, const TrammelLogEntry *entry)
{
  trammel_json_writer_open (writer, "changes", '[', FALSE);
  for (gsize i = 0; i < entry->n_changes; i++)
    {
      const TrammelLogChange *change = &entry->changes[i];
      char letter[] = { change->letter, '\0' };

      trammel_json_writer_open (writer, NULL, '{', TRUE);
      trammel_json_writer_string (writer, "letter", letter);
      trammel_json_writer_number (writer, "before", change->before);
      trammel_json_writer_number (writer, "before_u", change->before_u);
      trammel_json_writer_number (writer, "after", change->after);
      trammel_json_writer_number (writer, "after_u", change->after_u);
      write_found (writer, change);
      trammel_json_writer_members (writer, change->extra);
      trammel_json_writer_close (writer, '}');
    }
  trammel_json_writer_close (writer, ']');
}

void
trammel_codec_write_log_entry (TrammelJsonWriter *writer, const TrammelLogEntry *entry,
                               const TrammelReadingUnits *units)
{
  trammel_json_writer_open (writer, NULL, '{', FALSE);
  trammel_json_writer_string (writer, "time", entry->time);
  if (entry->note)
    trammel_json_writer_string (writer, "note", entry->note);
  trammel_json_writer_string (writer, "scatter", entry->scatter);
  trammel_json_writer_integer (writer, "dof", entry->dof);
  trammel_json_writer_number (writer, "chi2", entry->chi2);
  trammel_json_writer_number (writer, "p_value", entry->p_value);
  trammel_json_writer_number (writer, "birge", entry->birge);
  write_changes (writer, entry);
  trammel_codec_write_readings (writer, "readings", entry->readings, units);
  trammel_codec_write_readings (writer, "set_aside", entry->set_aside, units);
  trammel_json_writer_members (writer, entry->extra);
  trammel_json_writer_close (writer, '}');
}
