/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* A message of the core, "readings[14]: there is no axis B", as people count rows: "Row 15: there is no axis B". @row
 * (nullable) gets the row from 0; −1 where the message is of none. (transfer full) */
char *trammel_row_reason (const char *message, int *row);

G_END_DECLS
