/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/codec-private.h"
#include "machine/machine-private.h"

G_BEGIN_DECLS

/* `instruments` and `part` of a machine that is being read; FALSE with @error. */
gboolean trammel_codec_read_instruments (TrammelMachine *machine, TrammelJsonObject *members, GError **error);
gboolean trammel_codec_read_part (TrammelMachine *machine, TrammelJsonObject *members, GError **error);

void trammel_codec_write_instruments (TrammelJsonWriter *writer, const TrammelMachine *machine);
/* Nothing when nothing is known of the part. */
void trammel_codec_write_part (TrammelJsonWriter *writer, const TrammelMachine *machine);

G_END_DECLS
