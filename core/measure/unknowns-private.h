/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/adjustment.h"

G_BEGIN_DECLS

#define TRAMMEL_N_LETTERS 26
#define TRAMMEL_N_SKEWS 3 /* XY, XZ, YZ */

/* An instrument of which more is known than u, so that the model has to look at it. */
typedef struct
{
  GRefString *name;
  double scale_u; /* 0: its scale is taken as right */
  double strain;  /* α(t − 20) */
  gint16 scale;   /* parameter; −1: not touched, or none */
} TrammelGauge;

/**
 * TrammelUnknowns:
 *
 * Which unknowns the readings touch, and where each stands in the vector of parameters; −1: not touched. First the
 * instruments are taken, every reading is shown to trammel_unknowns_touch(), then trammel_unknowns_arrange() numbers
 * them.
 */
typedef struct
{
  TrammelParameter *parameters; /* as results; `name`, `kind`, `axes` and the stated value are filled in here */
  guint n;
  gint16 scale[TRAMMEL_N_LETTERS];
  gint16 skew[TRAMMEL_N_SKEWS];
  gint16 shrink;
  gint16 bead;
  gint16 foot;
  gint16 lash[TRAMMEL_N_LETTERS][TRAMMEL_N_LASH_SOURCES]; /* all sources of an axis have one, unless it is split */
  guint8 lash_sources[TRAMMEL_N_LETTERS];                 /* bit per TrammelLashSource that the readings have */
  guint32 split_lash;                    /* bit per letter: a lash per source, about which nothing is stated */
  guint8 untold_lash[TRAMMEL_N_LETTERS]; /* split: bit per source whose readings cannot tell it; held near 0 */
  GArray *gauges;                        /* of TrammelGauge */
  double part_strain;                    /* of the printed part */
  GPtrArray *datums;                     /* of their keys, in the order of their first reading */
  GHashTable *datum_ids;                 /* key → place in `datums` + 1 */
  int last_datum;                        /* place of the one that was touched last; −1: none yet */
  guint first_datum;                     /* parameter of datum 0 */
} TrammelUnknowns;

void trammel_unknowns_init (TrammelUnknowns *unknowns);
void trammel_unknowns_clear (TrammelUnknowns *unknowns);

/* Takes from @input what is known of instruments and part beyond u. */
void trammel_unknowns_take_instruments (TrammelUnknowns *unknowns, const TrammelAdjustmentInput *input);
/* What @reading was taken with; NULL when nothing but u is known of it. */
TrammelGauge *trammel_unknowns_gauge (const TrammelUnknowns *unknowns, const TrammelReading *reading);

/* Notes what a complete, checked reading depends on. FALSE when there are too many unknowns. */
gboolean trammel_unknowns_touch (TrammelUnknowns *unknowns, const TrammelReading *reading);

/* Puts them in order and looks up what is stated about each: explicit values, and the default ones in the `stated` way
 * of weighing. Errors: TRAMMEL_ERROR_TOO_LARGE; _DATA for a stated value that makes no sense. */
gboolean trammel_unknowns_arrange (TrammelUnknowns *unknowns, const TrammelAdjustmentInput *input, GError **error);

/* Place of a position reading's datum among the datums, or −1. */
int trammel_unknowns_datum (const TrammelUnknowns *unknowns, const TrammelReading *reading);

/* Fixed by a stated u of 0. */
static inline gboolean
trammel_parameter_is_fixed (const TrammelParameter *parameter)
{
  return parameter->has_stated && parameter->stated_u == 0;
}

/* The two axes of each skew, as indices of X, Y, Z. */
extern const guint8 trammel_skew_axes[TRAMMEL_N_SKEWS][2];

G_END_DECLS
