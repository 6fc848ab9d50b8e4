/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "drive/bench.h"
#include "drive/needs.h"
#include "machine/axis.h"

G_BEGIN_DECLS

/* What an axis can do, in sentences for people: translated, numbers in the locale. Used by the window and the command;
 * no cairo. Each is (transfer full) and NULL when what it tells is not known. @unit: of lengths, mm or in; with inches,
 * forces are told in lbf beside N. */

/* "the motor's speed", translated; "" for none. Static. */
const char *trammel_sentences_limit (TrammelLimit limit);

/* "spur 16:24", "screw 2 mm × 4 starts", "stepper 200 × 16": @part as in TrammelRotor. */
char *trammel_sentences_part (const TrammelTrain *train, gsize part);

/* What it holds before it slips and what the carriage needs, N. */
char *trammel_sentences_holds (const TrammelAxis *axis, const TrammelBench *bench, const TrammelUnit *unit);
/* Which move takes the most torque, and how many times that the motor has. */
char *trammel_sentences_margin (const TrammelBench *bench);
/* "At the motor: 0.12 N·m to start, 0.1 N·m to run, …" */
char *trammel_sentences_torques (const TrammelBench *bench);
/* "It can speed up by 2500 mm/s² at most; 1000 mm/s² is wanted." */
char *trammel_sentences_acceleration (const TrammelBench *bench, const TrammelUnit *unit);
/* How much of the motor's work reaches the carriage, and where most is lost. */
char *trammel_sentences_efficiency (const TrammelTrain *train, const TrammelBench *bench);
char *trammel_sentences_inertia (const TrammelBench *bench);
char *trammel_sentences_power_loss (const TrammelAxis *axis, const TrammelBench *bench);
/* "It goes 120 mm/s at most, limited by the motor's torque." */
char *trammel_sentences_top_speed (const TrammelBench *bench, const TrammelUnit *unit);

/* Screw: what it takes, whether it holds by itself, where it whirls and buckles. */
char *trammel_sentences_screw (const TrammelBench *bench);
char *trammel_sentences_whirl (const TrammelBench *bench, const TrammelUnit *unit);
char *trammel_sentences_buckling (const TrammelBench *bench, const TrammelUnit *unit);
/* Belt or chain @i of bench->loops: its length, the whole lengths around it, the teeth in mesh. */
char *trammel_sentences_loop (const TrammelTrain *train, const TrammelBench *bench, gsize i, const TrammelUnit *unit);

char *trammel_sentences_steps (const TrammelBench *bench, const TrammelUnit *unit);
char *trammel_sentences_pull_off (const TrammelBench *bench, const TrammelUnit *unit);
/* Only for an axis that stands upright or is called Z. */
char *trammel_sentences_layers (const TrammelAxis *axis, const TrammelBench *bench, const TrammelUnit *unit);

/* Play at the carriage, worst case and root-sum-square, and the part that most of it is from. */
char *trammel_sentences_play (const TrammelTrain *train, const TrammelBench *bench, const TrammelUnit *unit);
/* "The readings found 0.14 mm (± 0.02 mm), …" : @half_width of 95 %. */
char *trammel_sentences_play_found (const TrammelBench *bench, double found, double half_width,
                                    const TrammelUnit *unit);

/* What may hurt someone or break something; strings, freed with the array; empty when there is none. */
GPtrArray *trammel_sentences_cautions (const TrammelAxis *axis, const TrammelBench *bench);

/* "Drag: pull that keeps …" and where it goes, of a need that nothing was taken for; "Efficiency of spur 16:24: 97 %
 * was taken" of the others. */
char *trammel_sentences_need (const TrammelTrain *train, const TrammelNeed *need);

/* "3.1 N", "0.12 N·m", "120 mm/s", "2500 mm/s²", "0.012 mm": three digits; "—" when not known. */
char *trammel_sentences_force (const TrammelBench *bench, double force, const TrammelUnit *unit);
char *trammel_sentences_torque (double torque);
char *trammel_sentences_travel (const TrammelBench *bench, double travel, const TrammelUnit *unit);
char *trammel_sentences_speed (const TrammelBench *bench, double speed, const TrammelUnit *unit);
char *trammel_sentences_inertia_value (double inertia);

G_END_DECLS
