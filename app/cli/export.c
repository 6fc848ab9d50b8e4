/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <string.h>

#include "cli/console.h"
#include "cli/json-text.h"
#include "machine/export.h"
#include "machine/store.h"

static void
print_json (const TrammelMachine *machine, const TrammelExportForm *form, const char *text)
{
  g_autofree char *file_name = trammel_export_file_name (machine, form);
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_string (&json, "form", form->key);
  json_text_string (&json, "file_name", file_name);
  json_text_string (&json, "text", text);
  json_text_close (&json, '}');
  json_text_print (&json);
}

/* "profile, header or table": the keys of the forms. (transfer full) */
static char *
form_keys (void)
{
  gsize n;
  const TrammelExportForm *forms = trammel_export_forms (&n);
  GString *keys = g_string_new (NULL);

  for (gsize i = 0; i < n; i++)
    g_string_append_printf (keys, "%s%s", i == 0 ? "" : ", ", forms[i].key);
  return g_string_free (keys, FALSE);
}

static int
export_machine (const char *path, const TrammelExportForm *form, const char *output, gboolean as_json)
{
  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelMachine) machine = trammel_store_load (path, &error);
  g_autofree char *time = cli_time_now ();
  g_autofree char *text = NULL;

  if (!machine)
    return cli_input_error (NULL, error);
  text = trammel_export_text (machine, form, time, &error);
  if (!text)
    return cli_input_error (path, error);
  if (output && !trammel_store_write_text (output, text, strlen (text), &error))
    return cli_input_error (NULL, error);
  if (as_json)
    print_json (machine, form, text);
  else if (!output)
    cli_put (text, strlen (text));
  return CLI_DONE;
}

int
cli_export (const CliVerb *verb, int argc, char **argv)
{
  gboolean as_json = FALSE;
  g_autofree char *form_key = NULL;
  g_autofree char *output = NULL;
  g_autofree char *keys = form_keys ();
  const GOptionEntry entries[] = {
    { "form", 0, 0, G_OPTION_ARG_FILENAME, &form_key, N_ ("What to write"), keys },
    { "output", 0, 0, G_OPTION_ARG_FILENAME, &output, N_ ("Write to FILE (else to standard output)"), N_ ("FILE") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  g_autofree char *path = NULL;
  const TrammelExportForm *form;
  int status;

  if (!cli_parse (verb, argc, argv, entries, NULL, &path, &status))
    return status;
  if (!form_key)
    return cli_usage_error (verb, _ ("--form is wanted: one of %s"), keys);
  form = trammel_export_form_find (form_key);
  if (!form)
    return cli_usage_error (verb, _ ("--form: found “%s”; one of %s is wanted"), form_key, keys);
  if (!cli_check_apart (verb, "--output", output, path))
    return CLI_WRONG_USAGE;
  return export_machine (path, form, output, as_json);
}
