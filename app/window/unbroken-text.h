/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <glib.h>

G_BEGIN_DECLS

/* @text for a label that wraps: no line ends between a number and its unit or its ±, nor within a unit such as
 * steps/mm. (transfer full) */
char *trammel_unbroken_text (const char *text);

G_END_DECLS
