/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* The gears a person has at hand, kept per user in `gear-bin.txt` (see user-file.h), as they were typed:
 * `12,16,24x2`. What the text means is for its reader; here it is kept whole, whatever it says, so that nothing typed
 * is lost. */

/* (transfer full) (nullable): the text last saved, without white space around it; "" when none was. Errors as
 * trammel_user_file_load(). */
char *trammel_gear_bin_load (GError **error);

/* Keeps @text (UTF-8). Errors as trammel_user_file_save(). */
gboolean trammel_gear_bin_save (const char *text, GError **error);

G_END_DECLS
