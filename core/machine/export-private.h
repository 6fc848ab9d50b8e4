/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/export.h"

G_BEGIN_DECLS

/* What the controller gets of one axis. */
typedef struct
{
  char letter;
  TrammelAxisKind kind;
  const char *unit; /* "mm", "deg" */
  double counts_per_unit, u;
  int direction;            /* +1: positive counts move towards positive travel; −1 */
  double travel, top_speed; /* NaN: not given */
} TrammelExportAxis;

/* One per form: the text for the @n axes of @machine. (transfer full) */
char *trammel_export_profile (const TrammelMachine *machine, const TrammelExportAxis *axes, gsize n, const char *time);
char *trammel_export_header (const TrammelMachine *machine, const TrammelExportAxis *axes, gsize n, const char *time);
char *trammel_export_table (const TrammelMachine *machine, const TrammelExportAxis *axes, gsize n, const char *time);

G_END_DECLS
