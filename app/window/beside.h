/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Work with a picture and words about it. Where there is room the picture stands to the right of the work with the
 * words under it; else both lie below the work, the words beside the picture. Properties: work, picture, words
 * (GtkWidget), wide-from (pixels of width from which they stand beside the work). */
#define TRAMMEL_TYPE_BESIDE (trammel_beside_get_type ())
G_DECLARE_FINAL_TYPE (TrammelBeside, trammel_beside, TRAMMEL, BESIDE, GtkWidget)

G_END_DECLS
