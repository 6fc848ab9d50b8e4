/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <errno.h>
#include <glib/gi18n.h>
#include <locale.h>
#include <stdio.h>
#include <string.h>

#include "cli/console.h"
#include "cli/verb.h"

/* clang-format off */
static const CliVerb verbs[] = {
  { "ratio",     N_ ("what the machine should do: counts per unit of every axis, from its drive"), cli_ratio },
  { "facts",     N_ ("what every axis can do: force, speed, screws and belts, play, and what is missing to tell"), cli_facts },
  { "adjust",    N_ ("what it really does: fit the readings, correct the counts per unit, adopt"), cli_adjust },
  { "piece",     N_ ("write the program of a test piece, and the plan of what to measure on it"), cli_piece },
  { "positions", N_ ("where along an axis it goes wrong: the position test, as ISO 230-2 analyses it"), cli_positions },
  { "export",    N_ ("what the controller gets: the values in force as a profile, a C header or a table"), cli_export },
  { "mesh",      N_ ("how two gears mesh, at every distance that a plate with holes allows"), cli_mesh },
  { "find",      N_ ("which gears of a bin make a wanted ratio: the best trains of up to four pairs"), cli_find },
  { "drift",     N_ ("what the log says over time: control limits, trend, when to check again"), cli_drift },
  { "homing",    N_ ("how well the switch is found again: scatter, drift, the next home, the first layer"), cli_homing },
  { "bead",      N_ ("width, speed and flow of a laid bead: two of them give the third"), cli_bead },
};
/* clang-format on */

static const CliVerb *
find_verb (const char *name)
{
  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    if (strcmp (verbs[i].name, name) == 0)
      return &verbs[i];
  return NULL;
}

static void
print_help (void)
{
  g_autoptr (GString) text = g_string_new (NULL);

  g_string_append_printf (text, "%s\n  trammel-cli %s\n\n", _ ("Usage:"), _ ("VERB MACHINE [OPTION…]"));
  g_string_append_printf (text, "%s\n\n%s\n",
                          _ ("Drivetrain calibration: from teeth and readings to counts per millimetre."),
                          _ ("Verbs:"));
  for (gsize i = 0; i < G_N_ELEMENTS (verbs); i++)
    g_string_append_printf (text, "  %-10s %s\n", verbs[i].name, _ (verbs[i].summary));
  g_string_append_printf (text, "\n%s\n%s\n", _ ("“trammel-cli VERB --help” tells the options of a verb."),
                          _ ("Exit status: 0 done, 1 the input is at fault, 2 wrong usage."));
  cli_say (stdout, text->str);
}

static int
run (int argc, char **argv)
{
  const CliVerb *verb;

  if (argc < 2)
    return cli_usage_error (NULL, "%s", _ ("a verb is wanted"));
  if (strcmp (argv[1], "--help") == 0 || strcmp (argv[1], "-h") == 0)
    {
      print_help ();
      return CLI_DONE;
    }
  if (strcmp (argv[1], "--version") == 0)
    {
      cli_print_version ();
      return CLI_DONE;
    }
  verb = find_verb (argv[1]);
  if (!verb)
    return cli_usage_error (NULL, _ ("“%s” is not a verb"), argv[1]);
  return verb->run (verb, argc - 1, argv + 1);
}

int
main (int argc, char **argv)
{
  int status;

  setlocale (LC_ALL, "");
  const char *translations = g_getenv ("TRAMMEL_LOCALEDIR"); /* of a build that is not installed */
  bindtextdomain (GETTEXT_PACKAGE, translations ? translations : LOCALEDIR);
  bind_textdomain_codeset (GETTEXT_PACKAGE, "UTF-8");
  textdomain (GETTEXT_PACKAGE);
  g_set_prgname ("trammel-cli");

  status = run (argc, argv);
  errno = 0;
  if ((fflush (stdout) != 0 || ferror (stdout)) && status == CLI_DONE)
    status = cli_input_fault (_ ("standard output"), errno ? g_strerror (errno) : _ ("cannot be written"));
  return status;
}
