/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/train.h"

G_BEGIN_DECLS

/* One part's play as the carriage feels it. */
typedef struct
{
  gsize part;    /* stage, or n_stages for the output */
  double travel; /* mm, or degrees of a table; NaN when its lash is not known */
  double share;  /* of the sum; NaN where travel is */
} TrammelPlayPart;

/**
 * TrammelPlay:
 *
 * The lash of each stage carried to the carriage: angle at its output shaft × travel per radian of that shaft
 * (drive/stage.h, trammel_stage_lash_angle()); that of the output as it is (drive/output.h, trammel_output_lash()).
 */
typedef struct
{
  gboolean rotary;
  double worst;     /* all at once: the sum; NaN when none is known */
  double rss;       /* root of the sum of squares: what independent plays are likely to come to */
  gboolean partial; /* some lash is not known, so both are too small */
  gsize n_parts;    /* n_stages + 1 */
  TrammelPlayPart *parts;
  GPtrArray *needs; /* of TrammelNeed */
} TrammelPlay;

/* (transfer full) (nullable). Errors as trammel_train_facts(). */
TrammelPlay *trammel_play_new (const TrammelTrain *train, GError **error);
void trammel_play_free (TrammelPlay *play);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelPlay, trammel_play_free)

G_END_DECLS
