/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The files that a save puts beside its target for a moment, named `.NAME.XXXXXX` and `.NAME.XXXXXX~`, and what is left
 * of them when a program was killed in the middle. */

/* (transfer full): a template for mkstemp: beside @target, ending in XXXXXX. */
char *trammel_stale_files_template (const char *target);

/* (transfer full): a name that is in no use, as likely as not, ending in `~`. */
char *trammel_stale_files_link_name (const char *target);

/* Removes leftovers of earlier saves to @target: those that are a while old and that no process holds locked. */
void trammel_stale_files_remove (const char *target);

G_END_DECLS
