/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Shows @sentences (char *, NULL ones are skipped) one below the other in @box, each a label with @style_class
 * (nullable). Labels are kept and written anew; @box hides when there is nothing to say. */
void trammel_sentence_lines_show (GtkBox *box, const GPtrArray *sentences, const char *style_class);

G_END_DECLS
