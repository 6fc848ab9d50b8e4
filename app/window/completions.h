/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "machine/table.h"

G_BEGIN_DECLS

/* The rows of a table, and the user's own, offered below an entry while somebody types in it. The entry keeps the
 * focus, so that typing goes on as if nothing were there: Down goes into the list, Return takes the row reached,
 * Escape puts the list away; Alt+Down opens it with all there is. */
#define TRAMMEL_TYPE_COMPLETIONS (trammel_completions_get_type ())
G_DECLARE_FINAL_TYPE (TrammelCompletions, trammel_completions, TRAMMEL, COMPLETIONS, GObject)

/* Signal:
 *   chosen (completions, value)   value (const char *): of the row, as files hold it: "0.5 mm" */

/* @holder: what the entry is in; it has a layout manager and outlives the completions. */
TrammelCompletions *trammel_completions_new (GtkWidget *holder, GtkWidget *entry, const TrammelTable *table);

/* Somebody typed: the list opens, changes or closes. */
void trammel_completions_typed (TrammelCompletions *completions);

/* A key pressed in the entry, before the entry knows of it. TRUE: it was meant for the list. */
gboolean trammel_completions_key (TrammelCompletions *completions, guint key, GdkModifierType state);

void trammel_completions_close (TrammelCompletions *completions);

G_END_DECLS
