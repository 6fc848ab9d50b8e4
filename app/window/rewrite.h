/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Writing to a widget lays it out anew and tells assistive technology over the bus, even when it is the same as before.
 * These write only what differs; an edit that changes one number then costs one number. */

/* NULL: empty. Numbers stay with their units where the label wraps. */
void trammel_rewrite_label (GtkLabel *label, const char *text);
void trammel_rewrite_button (GtkButton *button, const char *label);
/* NULL: none. */
void trammel_rewrite_placeholder (GtkEntry *entry, const char *text);
void trammel_rewrite_tooltip (GtkWidget *widget, const char *text);
/* Whether what @control holds is refused: marked for the eye and for assistive technology. */
void trammel_rewrite_refused (GtkWidget *control, gboolean refused);
/* @classes: NULL-terminated; they become all the style classes of @widget. */
void trammel_rewrite_classes (GtkWidget *widget, const char *const *classes);

G_END_DECLS
