/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* What the controller gets. One row in a table per form: */
typedef struct
{
  const char *key;       /* "profile", "header", "table" */
  const char *label;     /* N_(): "Machine profile", "C header", "Plain table" */
  const char *file_name; /* suggested, with extension; %s is the machine's name made fit for a file name */
} TrammelExportForm;

const TrammelExportForm *trammel_export_forms (gsize *n);
const TrammelExportForm *trammel_export_form_find (const char *key);

/* (transfer full) (nullable): the text for the values in force of every axis: letter, unit, counts per unit, its u,
 * direction, travel, top speed. Numbers in C locale. @time: ISO 8601 UTC, stands in the text. Errors: an axis whose
 * train does not work. */
char *trammel_export_text (const TrammelMachine *machine, const TrammelExportForm *form, const char *time,
                           GError **error);
/* (transfer full): the suggested file name. */
char *trammel_export_file_name (const TrammelMachine *machine, const TrammelExportForm *form);

G_END_DECLS
