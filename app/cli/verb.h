/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* Exit statuses. */
enum
{
  CLI_DONE = 0,
  CLI_INPUT_AT_FAULT = 1,
  CLI_WRONG_USAGE = 2,
};

typedef struct _CliVerb CliVerb;

/* A verb of the command: a row of the table in main.c. */
struct _CliVerb
{
  const char *name;
  const char *summary;                                     /* N_(): one line for the list of verbs */
  int (*run) (const CliVerb *verb, int argc, char **argv); /* argv[0] is the verb; returns the exit status */
};

int cli_ratio (const CliVerb *verb, int argc, char **argv);
int cli_facts (const CliVerb *verb, int argc, char **argv);
int cli_adjust (const CliVerb *verb, int argc, char **argv);
int cli_piece (const CliVerb *verb, int argc, char **argv);
int cli_positions (const CliVerb *verb, int argc, char **argv);
int cli_drift (const CliVerb *verb, int argc, char **argv);
int cli_export (const CliVerb *verb, int argc, char **argv);
int cli_mesh (const CliVerb *verb, int argc, char **argv);
int cli_find (const CliVerb *verb, int argc, char **argv);
int cli_bead (const CliVerb *verb, int argc, char **argv);
int cli_homing (const CliVerb *verb, int argc, char **argv);

G_END_DECLS
