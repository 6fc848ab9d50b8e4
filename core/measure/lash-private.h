/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/fit-private.h"

G_BEGIN_DECLS

/* Compares the sources of lash of a fit that has taken its rows, for every axis that has two or more. @out: (out)
 * (nullable): of TrammelLashAgreement, in the order of the axes; NULL when no axis has. FALSE: cancelled. */
gboolean trammel_lash_compare (const TrammelFit *fit, GArray **out, GError **error);

G_END_DECLS
