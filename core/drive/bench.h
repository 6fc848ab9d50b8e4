/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/duty.h"
#include "drive/loop.h"
#include "drive/play.h"
#include "drive/slender.h"

G_BEGIN_DECLS

/* A belt or chain stage. */
typedef struct
{
  gsize stage;
  TrammelLoop loop;
  double center;        /* as given, or what the given length needs; NaN when neither is given */
  double pitches;       /* length in teeth or links: as given, or what the given center distance asks for; NaN */
  double needed_center; /* where both are given, the one that the length needs; else NaN */
  double teeth_in_mesh; /* NaN */
  gsize n_choices;      /* whole lengths around the given center distance */
  TrammelLoopChoice choices[TRAMMEL_LOOP_CHOICES];
} TrammelBenchLoop;

/* A lead screw and what it may be asked to do. NaN where not known. */
typedef struct
{
  gboolean known; /* its thread: the next five hold */
  TrammelScrew screw;
  gboolean told_by_efficiency; /* its friction follows from the efficiency that is given */
  double torque_raise;         /* N·m, all screws together, at the screws, for the axis's own raise and lower */
  double torque_lower;
  gboolean self_locking; /* the thread alone */

  gboolean slender_known; /* its root diameter and free length: the others hold */
  TrammelBar bar;
  gboolean turns;     /* the screw, not the nut: it can whirl */
  double whirl;       /* rad/s */
  double whirl_speed; /* carriage at that, mm/s */
  double buckling;    /* N, each screw */
  gboolean slender;   /* Euler's load, else Johnson's */
  double push;        /* N, each screw, when starting */
} TrammelBenchScrew;

/**
 * TrammelBench:
 *
 * All that the parts and the load of an axis tell of what it can do, together. Travel in mm, of a table in degrees.
 */
typedef struct
{
  TrammelFacts *facts;
  TrammelDuty *duty;
  TrammelPlay *play;

  double top_speed; /* as in the facts, or lower where the torque gives out */
  TrammelLimit limit;
  double travel_per_tooth; /* of the output; NaN */

  /* How far the load of a run pulls a stepper back (drive/resolution.h): in full steps, in travel, in counts. */
  double pull_off_steps, pull_off, pull_off_counts;
  double microstep_torque; /* N·m */
  GArray *layers;          /* of TrammelLayer; empty unless a stepper moves it along a line */

  gboolean has_screw;
  TrammelBenchScrew screw;
  gsize n_loops;
  TrammelBenchLoop *loops;

  GPtrArray *needs; /* of TrammelNeed, all of them */
} TrammelBench;

/* (transfer full) (nullable): a pure function of both. @load as for trammel_duty_new(). Errors as
 * trammel_train_facts(). */
TrammelBench *trammel_bench_new (const TrammelTrain *train, const TrammelRecord *load, GError **error);
void trammel_bench_free (TrammelBench *bench);
G_DEFINE_AUTOPTR_CLEANUP_FUNC (TrammelBench, trammel_bench_free)

/* The axis can be driven faster than TRAMMEL_SLENDER_MARGIN of where its screw whirls: it is wanted that fast, or
 * nothing but the whirling is known to limit it. */
gboolean trammel_bench_may_whirl (const TrammelBench *bench);
/* Its screw is pushed with more than TRAMMEL_SLENDER_MARGIN of its buckling load. */
gboolean trammel_bench_may_buckle (const TrammelBench *bench);

G_END_DECLS
