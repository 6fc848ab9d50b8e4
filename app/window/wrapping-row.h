/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* Its children in a row at their natural width; those that do not fit go on in rows below. Children come from the
 * template. */
#define TRAMMEL_TYPE_WRAPPING_ROW (trammel_wrapping_row_get_type ())
G_DECLARE_FINAL_TYPE (TrammelWrappingRow, trammel_wrapping_row, TRAMMEL, WRAPPING_ROW, GtkWidget)

G_END_DECLS
