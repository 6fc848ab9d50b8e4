/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Gives controls the accessible names that GTK 4.8 does not: a label without the underline of its mnemonic (which else
 * is spoken, and the label twice), an expander the name that it shows, and the button in a drop-down, which has the
 * focus, that of the drop-down. From now on, for every control when it is first realized. To be called once. */
void trammel_spoken_names_begin (void);

G_END_DECLS
