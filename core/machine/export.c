/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/export-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"
#include "base/number.h"
#include "machine/json-writer.h"

#define LONGEST_FILE_NAME 100

typedef struct
{
  TrammelExportForm form;
  char *(*text) (const TrammelMachine *machine, const TrammelExportAxis *axes, gsize n, const char *time);
} FormRow;

static const FormRow rows[] = {
  { { "profile", N_ ("Machine profile"), "%s-profile.json" }, trammel_export_profile },
  { { "header", N_ ("C header"), "%s-counts.h" }, trammel_export_header },
  { { "table", N_ ("Plain table"), "%s-counts.txt" }, trammel_export_table },
};

const TrammelExportForm *
trammel_export_forms (gsize *n)
{
  static TrammelExportForm forms[G_N_ELEMENTS (rows)];
  static gsize done;

  g_return_val_if_fail (n != NULL, NULL);

  if (g_once_init_enter (&done))
    {
      for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
        forms[i] = rows[i].form;
      g_once_init_leave (&done, 1);
    }
  *n = G_N_ELEMENTS (rows);
  return forms;
}

const TrammelExportForm *
trammel_export_form_find (const char *key)
{
  gsize n;
  const TrammelExportForm *forms = trammel_export_forms (&n);

  g_return_val_if_fail (key != NULL, NULL);
  for (gsize i = 0; i < n; i++)
    if (g_str_equal (forms[i].key, key))
      return &forms[i];
  return NULL;
}

static gboolean
describe_axis (const TrammelAxis *axis, TrammelExportAxis *out, GError **error)
{
  g_autoptr (TrammelFacts) facts = NULL;

  if (!trammel_axis_check (axis, error))
    return FALSE;
  facts = trammel_train_facts (trammel_axis_train (axis), error);
  if (!facts || !trammel_axis_in_force (axis, &out->counts_per_unit, &out->u, error))
    return FALSE;
  out->letter = trammel_axis_letter (axis);
  out->kind = trammel_axis_kind (axis);
  out->unit = trammel_axis_unit (axis);
  out->direction = facts->direction;
  out->travel = trammel_axis_travel_value (axis);
  out->top_speed = facts->top_speed;
  return TRUE;
}

char *
trammel_export_text (const TrammelMachine *machine, const TrammelExportForm *form, const char *time, GError **error)
{
  g_autofree TrammelExportAxis *axes = NULL;
  gsize n;

  g_return_val_if_fail (machine != NULL && form != NULL && time != NULL, NULL);

  n = trammel_machine_n_axes (machine);
  axes = g_new0 (TrammelExportAxis, n);
  for (gsize i = 0; i < n; i++)
    if (!describe_axis (trammel_machine_axis (machine, i), &axes[i], error))
      {
        g_prefix_error (error, "axes[%zu].", i);
        return NULL;
      }
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    if (g_str_equal (rows[i].form.key, form->key))
      return rows[i].text (machine, axes, n, time);
  g_return_val_if_reached (NULL);
}

/* Letters and digits of any script, and single hyphens for all else. */
static char *
fit_for_file_name (const char *name)
{
  GString *fit = g_string_new (NULL);

  for (const char *p = name; *p && fit->len < LONGEST_FILE_NAME; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (g_unichar_isalnum (c) || c == '_')
        g_string_append_unichar (fit, g_unichar_tolower (c));
      else if (fit->len > 0 && fit->str[fit->len - 1] != '-')
        g_string_append_c (fit, '-');
    }
  while (fit->len > 0 && fit->str[fit->len - 1] == '-')
    g_string_truncate (fit, fit->len - 1);
  if (fit->len == 0)
    g_string_append (fit, "machine");
  return g_string_free (fit, FALSE);
}

char *
trammel_export_file_name (const TrammelMachine *machine, const TrammelExportForm *form)
{
  g_autofree char *name = NULL;
  g_auto (GStrv) parts = NULL;

  g_return_val_if_fail (machine != NULL && form != NULL, NULL);

  name = fit_for_file_name (trammel_machine_name (machine));
  parts = g_strsplit (form->file_name, "%s", 2);
  return g_strjoinv (name, parts);
}

static void
write_given (TrammelJsonWriter *writer, const char *name, double value)
{
  if (isfinite (value))
    trammel_json_writer_number (writer, name, value);
}

char *
trammel_export_profile (const TrammelMachine *machine, const TrammelExportAxis *axes, gsize n, const char *time)
{
  TrammelJsonWriter writer;

  trammel_json_writer_init (&writer);
  trammel_json_writer_open (&writer, NULL, '{', FALSE);
  trammel_json_writer_string (&writer, "format", "trammel-profile");
  trammel_json_writer_integer (&writer, "version", 1);
  trammel_json_writer_string (&writer, "machine", trammel_machine_name (machine));
  trammel_json_writer_string (&writer, "time", time);
  trammel_json_writer_open (&writer, "axes", '[', FALSE);
  for (gsize i = 0; i < n; i++)
    {
      char letter[] = { axes[i].letter, '\0' };

      trammel_json_writer_open (&writer, NULL, '{', FALSE);
      trammel_json_writer_string (&writer, "letter", letter);
      trammel_json_writer_string (&writer, "kind", trammel_axis_kind_key (axes[i].kind));
      trammel_json_writer_string (&writer, "unit", axes[i].unit);
      trammel_json_writer_number (&writer, "counts_per_unit", axes[i].counts_per_unit);
      trammel_json_writer_number (&writer, "u", axes[i].u);
      trammel_json_writer_integer (&writer, "direction", axes[i].direction);
      write_given (&writer, "travel", axes[i].travel);
      write_given (&writer, "top_speed", axes[i].top_speed);
      trammel_json_writer_close (&writer, '}');
    }
  trammel_json_writer_close (&writer, ']');
  trammel_json_writer_close (&writer, '}');
  return trammel_json_writer_finish (&writer, NULL);
}
