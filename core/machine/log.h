/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "measure/reading.h"

G_BEGIN_DECLS

/* Play, as the readings of the adoption told it. mm; degrees along a rotary axis. */
typedef struct
{
  double value, u;
  char *extra; /* unknown members, JSON object text, or NULL */
} TrammelLogLash;

/* How well the switch repeated: scatter of the home readings that the adoption set aside, pooled over the ways of
 * approach. mm; degrees along a rotary axis. */
typedef struct
{
  double s;
  gint64 n, dof; /* homes, and degrees of freedom of s: 1…n − 1 */
  char *extra;   /* unknown members, JSON object text, or NULL */
} TrammelLogHome;

/* One axis in a log entry: counts per unit before and after, and what else was found on the way. All zero: nothing. */
typedef struct
{
  char letter;
  double before, before_u;
  double after, after_u;
  double nominal; /* of the train afterwards, counts per unit; 0: not given */
  gboolean has_lash;
  TrammelLogLash lash;
  gboolean has_home;
  TrammelLogHome home;
  char *extra; /* unknown members, JSON object text, or NULL */
} TrammelLogChange;

void trammel_log_change_clear (TrammelLogChange *change);

/**
 * TrammelLogEntry:
 *
 * One adoption. Immutable and reference-counted; entries are only ever added.
 */
typedef struct
{
  gatomicrefcount references;
  char *time; /* ISO 8601, UTC: 2026-11-25T09:36:00Z */
  gsize n_changes;
  TrammelLogChange *changes;
  TrammelReadings *readings;  /* those the fit used */
  TrammelReadings *set_aside; /* measured rows of the machine that the fit did not use, but that were taken before it */
  /* summary of the fit */
  char *scatter; /* "stated" or "estimated" */
  gint64 dof;
  double chi2, p_value, birge; /* p_value NaN: not given */
  char *note;                  /* or NULL */
  char *extra;                 /* unknown members, JSON object text, or NULL */
} TrammelLogEntry;

/* (transfer full): an entry with @changes copied, no readings, scatter "stated", birge 1, the other numbers NaN or 0.
 * The one who makes it fills in the rest before sharing it. */
TrammelLogEntry *trammel_log_entry_new (const char *time, const TrammelLogChange *changes, gsize n_changes);
TrammelLogEntry *trammel_log_entry_ref (const TrammelLogEntry *entry);
gboolean trammel_log_entry_equal (const TrammelLogEntry *a, const TrammelLogEntry *b);
void trammel_log_entry_unref (TrammelLogEntry *entry);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelLogEntry, trammel_log_entry_unref)

G_END_DECLS
