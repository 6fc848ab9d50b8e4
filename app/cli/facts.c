/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "cli/facts.h"

#include <glib/gi18n.h>
#include <math.h>

#include "cli/console.h"
#include "machine/store.h"

static void
clear_axis (gpointer data)
{
  CliAxisFacts *axis = data;
  g_clear_pointer (&axis->bench, trammel_bench_free);
}

/* The play that the readings found, when they told something about it. */
static void
find_lash (const TrammelAdjustment *adjustment, CliAxisFacts *axis)
{
  const TrammelParameter *lash
      = adjustment ? trammel_adjustment_learned_lash (adjustment, trammel_axis_letter (axis->axis)) : NULL;

  if (!lash)
    return;
  axis->lash = lash->value;
  axis->lash_u = lash->u;
  axis->lash_half_width = (lash->high - lash->low) / 2;
}

/* NULL when there are no readings to fit, or they cannot be fitted: what the parts tell does not hang on them. */
static TrammelAdjustment *
fit_readings (const TrammelMachine *machine)
{
  if (trammel_readings_length (trammel_machine_readings (machine)) == 0)
    return NULL;
  return trammel_machine_adjust (machine, NULL, NULL, NULL);
}

/* Every axis that is asked for, in the machine's order. NULL and the status to end with when a train does not work. */
static GArray *
facts_of_axes (const TrammelMachine *machine, char letter, const char *path, int *status)
{
  g_autoptr (GArray) axes = g_array_new (FALSE, FALSE, sizeof (CliAxisFacts));
  g_autoptr (TrammelAdjustment) adjustment = fit_readings (machine);

  g_array_set_clear_func (axes, clear_axis);
  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    {
      const TrammelAxis *axis = trammel_machine_axis (machine, i);
      CliAxisFacts facts = { axis, trammel_machine_display_unit (machine), NULL, NAN, NAN, NAN };
      g_autoptr (GError) error = NULL;

      if (letter && trammel_axis_letter (axis) != letter)
        continue;
      if (trammel_axis_check (axis, &error))
        facts.bench = trammel_bench_new (trammel_axis_train (axis), trammel_axis_load (axis), &error);
      if (!facts.bench)
        {
          g_autofree char *place = g_strdup_printf ("%s: axes[%zu].%s", path, i, error->message);

          *status = cli_input_fault (NULL, place);
          return NULL;
        }
      find_lash (adjustment, &facts);
      g_array_append_val (axes, facts);
    }
  return g_steal_pointer (&axes);
}

/* '\0' for all. FALSE with the status to end with. */
static gboolean
read_letter (const CliVerb *verb, const TrammelMachine *machine, const char *path, const char *text, char *letter,
             int *status)
{
  *letter = '\0';
  if (!text)
    return TRUE;
  *letter = g_ascii_toupper (text[0]);
  if (!g_ascii_isupper (*letter) || text[1] != '\0')
    {
      *status = cli_usage_error (verb, _ ("--axis: found “%s”; a letter from A to Z is wanted"), text);
      return FALSE;
    }
  if (trammel_machine_axis_index (machine, *letter) >= 0)
    return TRUE;
  {
    g_autofree char *what = g_strdup_printf (_ ("it has no axis %c"), *letter);

    *status = cli_input_fault (path, what);
    return FALSE;
  }
}

int
cli_facts (const CliVerb *verb, int argc, char **argv)
{
  gboolean as_json = FALSE;
  g_autofree char *axis = NULL;
  const GOptionEntry entries[] = {
    { "axis", 0, 0, G_OPTION_ARG_STRING, &axis, N_ ("Only this axis"), N_ ("LETTER") },
    { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  g_autofree char *path = NULL;
  g_autoptr (TrammelMachine) machine = NULL;
  g_autoptr (GArray) axes = NULL;
  g_autoptr (GError) error = NULL;
  char letter;
  int status;

  if (!cli_parse (verb, argc, argv, entries, NULL, &path, &status))
    return status;
  machine = trammel_store_load (path, &error);
  if (!machine)
    return cli_input_error (NULL, error);
  if (!read_letter (verb, machine, path, axis, &letter, &status))
    return status;
  axes = facts_of_axes (machine, letter, path, &status);
  if (!axes)
    return status;
  if (as_json)
    cli_facts_print_json (axes);
  else
    cli_facts_print_words (axes);
  return CLI_DONE;
}
