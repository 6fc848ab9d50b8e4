/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <math.h>

#include "cli/console.h"
#include "cli/json-text.h"
#include "draw/display.h"
#include "draw/duty-sentences.h"
#include "draw/sentences.h"
#include "machine/store.h"

/* Every axis's facts, in the machine's order. NULL and the status to end with when a train does not work. */
static GPtrArray *
facts_of_axes (const TrammelMachine *machine, const char *path, int *status)
{
  g_autoptr (GPtrArray) facts = g_ptr_array_new_with_free_func ((GDestroyNotify)trammel_facts_free);

  for (gsize i = 0; i < trammel_machine_n_axes (machine); i++)
    {
      g_autoptr (GError) error = NULL;
      TrammelFacts *of_axis = trammel_train_facts (trammel_axis_train (trammel_machine_axis (machine, i)), &error);

      if (!of_axis)
        {
          g_autofree char *place = g_strdup_printf ("%s: axes[%zu].%s", path, i, error->message);

          *status = cli_input_fault (NULL, place);
          return NULL;
        }
      g_ptr_array_add (facts, of_axis);
    }
  return g_steal_pointer (&facts);
}

static void
in_force_of (const TrammelAxis *axis, const TrammelFacts *facts, double *value, double *u)
{
  if (trammel_axis_set_in_force (axis, value, u))
    return;
  *value = trammel_exact_to_double (facts->counts_per_unit);
  *u = 0;
}

static void
print_json (const TrammelMachine *machine, const GPtrArray *facts_of_axis)
{
  JsonText json;

  json_text_init (&json);
  json_text_open (&json, NULL, '{');
  json_text_open (&json, "axes", '[');
  for (gsize i = 0; i < facts_of_axis->len; i++)
    {
      const TrammelAxis *axis = trammel_machine_axis (machine, i);
      const TrammelFacts *facts = g_ptr_array_index (facts_of_axis, i);
      const char letter[] = { trammel_axis_letter (axis), '\0' };
      g_autofree char *exact = trammel_exact_to_fraction (facts->counts_per_unit);
      double value, u;

      in_force_of (axis, facts, &value, &u);
      json_text_open (&json, NULL, '{');
      json_text_string (&json, "letter", letter);
      json_text_open (&json, "counts_per_unit", '{');
      json_text_string (&json, "exact", exact);
      json_text_integer (&json, "pi", facts->counts_per_unit.pi);
      json_text_number (&json, "value", trammel_exact_to_double (facts->counts_per_unit));
      json_text_close (&json, '}');
      json_text_open (&json, "in_force", '{');
      json_text_number (&json, "value", value);
      json_text_number (&json, "u", u);
      json_text_close (&json, '}');
      json_text_number (&json, "travel_per_count", facts->travel_per_count);
      json_text_number (&json, "travel_per_motor_turn", facts->travel_per_motor_turn);
      json_text_integer (&json, "direction", facts->direction);
      json_text_close (&json, '}');
    }
  json_text_close (&json, ']');
  json_text_close (&json, '}');
  json_text_print (&json);
}

/* "12.5 µm" tells more than "0.0125 mm", but a person sets machines in mm: one unit, few digits. */
static char *
travel_text (double travel, gboolean rotary)
{
  g_autofree char *number = trammel_display_significant (travel, 6);

  return g_strconcat (number, rotary ? "°" : " mm", NULL);
}

static void
append_speed (GString *text, const TrammelFacts *facts)
{
  g_autofree char *speed = NULL;

  if (!isfinite (facts->top_speed))
    return;
  speed = trammel_display_significant (facts->top_speed, 4);
  g_string_append_printf (text, _ ("   Top speed %s %s, limited by %s.\n"), speed, facts->rotary ? "°/s" : "mm/s",
                          trammel_sentences_limit (facts->limit));
}

static void
append_in_force (GString *text, const TrammelAxis *axis, const char *unit)
{
  double value, u;
  g_autofree char *in_force = NULL;

  if (!trammel_axis_set_in_force (axis, &value, &u))
    {
      g_string_append (text, _ ("   The nominal value is in force.\n"));
      return;
    }
  in_force = u > 0 ? trammel_display_interval (value, TRAMMEL_DISPLAY_95 * u) : trammel_display_significant (value, 8);
  g_string_append_printf (text, _ ("   In force: %s %s.\n"), in_force, unit);
}

static void
append_axis (GString *text, const TrammelAxis *axis, const TrammelFacts *facts)
{
  g_autofree char *train = trammel_train_to_words (trammel_axis_train (axis));
  g_autofree char *counts = trammel_exact_to_display (facts->counts_per_unit, trammel_display_decimal_sign ());
  g_autofree char *unit = trammel_sentences_counts_unit (axis);
  g_autofree char *per_count = travel_text (facts->travel_per_count, facts->rotary);
  g_autofree char *per_turn = travel_text (facts->travel_per_motor_turn, facts->rotary);
  char letter = trammel_axis_letter (axis);

  g_string_append_printf (text, "%c  %s\n", letter, train);
  g_string_append_printf (text, "   %s %s\n", counts, unit);
  append_in_force (text, axis, unit);
  g_string_append_printf (text, _ ("   One count is %s; one turn of the motor is %s.\n"), per_count, per_turn);
  g_string_append_printf (text,
                          facts->direction > 0 ? _ ("   Positive counts move towards positive %c.\n")
                                               : _ ("   Positive counts move towards negative %c.\n"),
                          letter);
  append_speed (text, facts);
}

static void
print_words (const TrammelMachine *machine, const GPtrArray *facts_of_axis)
{
  g_autoptr (GString) text = g_string_new (NULL);

  for (gsize i = 0; i < facts_of_axis->len; i++)
    {
      if (i > 0)
        g_string_append_c (text, '\n');
      append_axis (text, trammel_machine_axis (machine, i), g_ptr_array_index (facts_of_axis, i));
    }
  if (facts_of_axis->len == 0)
    g_string_append (text, _ ("The machine has no axes.\n"));
  cli_say (stdout, text->str);
}

int
cli_ratio (const CliVerb *verb, int argc, char **argv)
{
  gboolean as_json = FALSE;
  const GOptionEntry entries[] = {
    { "json", 0, 0, G_OPTION_ARG_NONE, &as_json, N_ ("Print one JSON object"), NULL },
    { NULL },
  };
  g_autofree char *path = NULL;
  g_autoptr (TrammelMachine) machine = NULL;
  g_autoptr (GPtrArray) facts = NULL;
  g_autoptr (GError) error = NULL;
  int status;

  if (!cli_parse (verb, argc, argv, entries, NULL, &path, &status))
    return status;
  machine = trammel_store_load (path, &error);
  if (!machine)
    return cli_input_error (NULL, error);
  facts = facts_of_axes (machine, path, &status);
  if (!facts)
    return status;
  if (as_json)
    print_json (machine, facts);
  else
    print_words (machine, facts);
  return CLI_DONE;
}
