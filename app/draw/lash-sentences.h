/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/* "Lash of X: 0.102 ± 0.004 mm by positions, 0.11 ± 0.03 mm by reversals; they agree (p 0.41)." What cannot be told by
 * its own readings is said to be so. (transfer full) */
char *trammel_sentences_lash (const TrammelMachine *machine, const TrammelLashAgreement *agreement);

G_END_DECLS
