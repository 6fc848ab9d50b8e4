/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>
#include <stdio.h>

#include "cli/verb.h"
#include "machine/machine.h"

G_BEGIN_DECLS

/* UTF-8 @text to @stream, in the terminal's own character set where that is another one. */
void cli_say (FILE *stream, const char *text);
/* The same bytes, whatever the locale: programs, CSV, JSON. */
void cli_put (const char *text, gsize length);
void cli_print_version (void);

/* "trammel-cli: PLACE: what is wrong" on standard error; each returns the exit status to end with. */
int cli_input_fault (const char *place, const char *what);
int cli_input_error (const char *place, const GError *error); /* @place NULL: the message names it */
/* Also tells where help is. @verb NULL: before any verb. */
int cli_usage_error (const CliVerb *verb, const char *format, ...) G_GNUC_PRINTF (2, 3);

/* An argument as typed, in UTF-8; NULL when it is not text in any known coding. (transfer full) */
char *cli_argument_to_utf8 (const char *argument);

/**
 * cli_parse:
 * @entries: the verb's own options, ended with an empty one; --help and --version are added
 * @description: (nullable): what the help says after the options
 * @machine_path: (nullable): gets the one argument that is not an option; (transfer full). NULL: options only
 * @status: gets the exit status when FALSE is returned
 *
 * FALSE: the verb ends here (wrong usage, or the version was asked for).
 */
gboolean cli_parse (const CliVerb *verb, int argc, char **argv, const GOptionEntry *entries, const char *description,
                    char **machine_path, int *status);

/* As cli_parse(), where the machine may be left out: @machine_path then gets NULL. */
gboolean cli_parse_with_or_without_machine (const CliVerb *verb, int argc, char **argv, const GOptionEntry *entries,
                                            const char *description, char **machine_path, int *status);

/* FALSE, and told as wrong usage: what @option names is the file @other, which it would take the place of. Either may
 * be NULL. */
gboolean cli_check_apart (const CliVerb *verb, const char *option, const char *path, const char *other);

/* ISO 8601, UTC. (transfer full) */
char *cli_time_now (void);

/* Shows on standard error, when that is a terminal, that work is going on: @what and the seconds it has taken, once
 * it has taken one. NULL elsewhere. */
typedef struct _CliProgress CliProgress;
CliProgress *cli_progress_begin (const char *what);
void cli_progress_end (CliProgress *progress);

G_END_DECLS
