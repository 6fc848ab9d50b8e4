/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <glib/gi18n.h>
#include <glib/gstdio.h>
#include <string.h>
#include <unistd.h>

#include "cli/console.h"

/* What a character set without these can show instead. */
static const struct
{
  const char *sign, *instead;
} plain_signs[] = {
  { "±", "+-" },  { "−", "-" },  { "×", "x" },  { "°", " deg" }, { "π", "pi" },  { "²", "2" },
  { "χ", "chi" }, { "→", "->" }, { "“", "\"" }, { "”", "\"" },   { "…", "..." }, { "—", "-" },
};

static char *
in_charset (const char *text, const char *charset)
{
  g_autofree char *as_is = g_convert (text, -1, charset, "UTF-8", NULL, NULL, NULL);
  g_autoptr (GString) plain = NULL;

  if (as_is)
    return g_steal_pointer (&as_is);
  plain = g_string_new (text);
  for (gsize i = 0; i < G_N_ELEMENTS (plain_signs); i++)
    g_string_replace (plain, plain_signs[i].sign, plain_signs[i].instead, 0);
  return g_convert_with_fallback (plain->str, -1, charset, "UTF-8", "?", NULL, NULL, NULL);
}

void
cli_say (FILE *stream, const char *text)
{
  const char *charset;
  g_autofree char *converted = NULL;

  if (!g_get_charset (&charset))
    converted = in_charset (text, charset);
  fputs (converted ? converted : text, stream);
}

void
cli_put (const char *text, gsize length)
{
  fwrite (text, 1, length, stdout);
}

void
cli_print_version (void)
{
  cli_say (stdout, "trammel-cli " TRAMMEL_VERSION "\n");
}

int
cli_input_fault (const char *place, const char *what)
{
  g_autofree char *line
      = place ? g_strdup_printf ("trammel-cli: %s: %s\n", place, what) : g_strdup_printf ("trammel-cli: %s\n", what);

  cli_say (stderr, line);
  return CLI_INPUT_AT_FAULT;
}

int
cli_input_error (const char *place, const GError *error)
{
  return cli_input_fault (place, error->message);
}

int
cli_usage_error (const CliVerb *verb, const char *format, ...)
{
  va_list arguments;
  g_autofree char *what = NULL;
  g_autofree char *command
      = verb ? g_strdup_printf ("trammel-cli %s --help", verb->name) : g_strdup ("trammel-cli --help");
  g_autofree char *hint = g_strdup_printf (_ ("Try “%s”.\n"), command);

  va_start (arguments, format);
  what = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  cli_input_fault (verb ? verb->name : NULL, what);
  cli_say (stderr, hint);
  return CLI_WRONG_USAGE;
}

char *
cli_argument_to_utf8 (const char *argument)
{
  if (g_utf8_validate (argument, -1, NULL))
    return g_strdup (argument);
  return g_locale_to_utf8 (argument, -1, NULL, NULL, NULL);
}

static GOptionContext *
context_for (const CliVerb *verb, const GOptionEntry *entries, const char *description, const char *argument,
             gboolean *help, gboolean *version)
{
  const GOptionEntry own[] = {
    { "help", 'h', 0, G_OPTION_ARG_NONE, help, N_ ("Show this help and end"), NULL },
    { "version", 0, 0, G_OPTION_ARG_NONE, version, N_ ("Show the version and end"), NULL },
    { NULL },
  };
  GOptionContext *context = g_option_context_new (argument);
  g_autofree char *summary = g_strdup_printf ("trammel-cli %s: %s", verb->name, _ (verb->summary));

  /* Its own help would go past cli_say(), and past the look at whether standard output could be written. */
  g_option_context_set_help_enabled (context, FALSE);
  g_option_context_set_summary (context, summary);
  g_option_context_set_description (context, description);
  g_option_context_set_translation_domain (context, GETTEXT_PACKAGE);
  g_option_context_add_main_entries (context, entries, GETTEXT_PACKAGE);
  g_option_context_add_main_entries (context, own, GETTEXT_PACKAGE);
  return context;
}

static gboolean
parse (const CliVerb *verb, int argc, char **argv, const GOptionEntry *entries, const char *description,
       char **machine_path, gboolean machine_is_needed, int *status)
{
  gboolean help = FALSE, version = FALSE;
  g_autofree char *name = g_strdup_printf ("trammel-cli %s", verb->name);
  const char *argument = machine_is_needed ? _ ("MACHINE") : _ ("[MACHINE]");
  g_autoptr (GOptionContext) context
      = context_for (verb, entries, description, machine_path ? argument : NULL, &help, &version);
  g_autoptr (GError) error = NULL;

  argv[0] = name;
  g_set_prgname (name);
  *status = CLI_WRONG_USAGE;
  if (!g_option_context_parse (context, &argc, &argv, &error))
    {
      cli_usage_error (verb, "%s", error->message);
      return FALSE;
    }
  if (help || version)
    {
      g_autofree char *text = help ? g_option_context_get_help (context, TRUE, NULL) : NULL;

      if (help)
        cli_say (stdout, text);
      else
        cli_print_version ();
      *status = CLI_DONE;
      return FALSE;
    }
  if (argc > 1 && strcmp (argv[1], "--") == 0)
    {
      argc--;
      argv++;
    }
  if (!machine_path && argc > 1)
    {
      cli_usage_error (verb, _ ("“%s”: nothing but options is wanted"), argv[1]);
      return FALSE;
    }
  if (!machine_path)
    return TRUE;
  *machine_path = NULL;
  if (argc < 2 && !machine_is_needed)
    return TRUE;
  if (argc < 2)
    {
      cli_usage_error (verb, "%s", _ ("a machine file is wanted"));
      return FALSE;
    }
  if (argc > 2)
    {
      cli_usage_error (verb, _ ("“%s”: only one machine file is wanted"), argv[2]);
      return FALSE;
    }
  *machine_path = g_strdup (argv[1]);
  return TRUE;
}

gboolean
cli_parse (const CliVerb *verb, int argc, char **argv, const GOptionEntry *entries, const char *description,
           char **machine_path, int *status)
{
  return parse (verb, argc, argv, entries, description, machine_path, TRUE, status);
}

gboolean
cli_parse_with_or_without_machine (const CliVerb *verb, int argc, char **argv, const GOptionEntry *entries,
                                   const char *description, char **machine_path, int *status)
{
  return parse (verb, argc, argv, entries, description, machine_path, FALSE, status);
}

static gboolean
is_same_file (const char *path, const char *other)
{
  GStatBuf a, b;
  g_autofree char *name = g_canonicalize_filename (path, NULL);
  g_autofree char *other_name = g_canonicalize_filename (other, NULL);

  if (g_stat (path, &a) == 0 && g_stat (other, &b) == 0)
    return S_ISREG (a.st_mode) && a.st_dev == b.st_dev && a.st_ino == b.st_ino;
  return strcmp (name, other_name) == 0;
}

gboolean
cli_check_apart (const CliVerb *verb, const char *option, const char *path, const char *other)
{
  g_autofree char *shown = NULL;

  if (!path || !other || !is_same_file (path, other))
    return TRUE;
  shown = g_filename_display_name (other);
  cli_usage_error (verb, _ ("%s: it would take the place of “%s”; another name is wanted"), option, shown);
  return FALSE;
}

char *
cli_time_now (void)
{
  g_autoptr (GDateTime) now = g_date_time_new_now_utc ();

  return g_date_time_format (now, "%Y-%m-%dT%H:%M:%SZ");
}

struct _CliProgress
{
  GThread *thread;
  GMutex mutex;
  GCond finished;
  gboolean is_finished;
  char *what;
};

static gpointer
tell_seconds (gpointer data)
{
  CliProgress *progress = data;
  gint64 start = g_get_monotonic_time ();
  gboolean told = FALSE;

  g_mutex_lock (&progress->mutex);
  for (int seconds = 1; !progress->is_finished; seconds++)
    {
      if (g_cond_wait_until (&progress->finished, &progress->mutex, start + seconds * G_TIME_SPAN_SECOND)
          || progress->is_finished)
        continue;
      {
        g_autofree char *line = g_strdup_printf (_ ("\r%s %d s"), progress->what, seconds);

        cli_say (stderr, line);
        told = TRUE;
      }
    }
  g_mutex_unlock (&progress->mutex);
  if (told)
    cli_say (stderr, "\r\033[K");
  return NULL;
}

CliProgress *
cli_progress_begin (const char *what)
{
  CliProgress *progress;

  if (!isatty (STDERR_FILENO))
    return NULL;
  progress = g_new0 (CliProgress, 1);
  g_mutex_init (&progress->mutex);
  g_cond_init (&progress->finished);
  progress->what = g_strdup (what);
  progress->thread = g_thread_new ("progress", tell_seconds, progress);
  return progress;
}

void
cli_progress_end (CliProgress *progress)
{
  if (!progress)
    return;
  g_mutex_lock (&progress->mutex);
  progress->is_finished = TRUE;
  g_cond_signal (&progress->finished);
  g_mutex_unlock (&progress->mutex);
  g_thread_join (progress->thread);
  g_mutex_clear (&progress->mutex);
  g_cond_clear (&progress->finished);
  g_free (progress->what);
  g_free (progress);
}
