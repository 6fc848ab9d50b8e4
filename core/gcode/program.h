/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "gcode/path.h"
#include "gcode/tool.h"

G_BEGIN_DECLS

/**
 * TrammelProgram:
 *
 * The program of a test piece as it grows: ISO 6983 words (G0 G1 G21 G90 G92 F M2 and the machine's own lines),
 * cautions first as comments in parentheses. With filament the feed word (the tool's letter) is absolute from G92 0;
 * else the machine's own lines switch the feed. Comments are ASCII and short, since controllers' line buffers are.
 */
typedef struct
{
  const TrammelTool *tool;
  GString *text;
  double fed; /* mm of filament since G92 */
} TrammelProgram;

/* @longest: of the lines that are drawn without lifting, mm: how long a pen is held on. Writes the cautions, then the
 * title with the machine's name. */
void trammel_program_init (TrammelProgram *program, const TrammelTool *tool, double longest, const char *title);
/* (transfer full): with the machine's end lines and the end word. */
char *trammel_program_finish (TrammelProgram *program);

/* A comment, "Size: 100 mm", in English: it describes the program, as its words do. */
void trammel_program_put_size (TrammelProgram *program, const char *what, double value, const char *unit);
/* Those of the tool that every piece has: line width, speed, layer height, filament diameter. */
void trammel_program_put_tool (TrammelProgram *program);
void trammel_program_put_comment (TrammelProgram *program, const char *text);
/* Units, absolute places, the machine's start lines; with a feed that is switched, nothing is on and all is lifted. */
void trammel_program_start (TrammelProgram *program);

/* The feed counts from here; filament only. */
void trammel_program_zero_feed (TrammelProgram *program);
void trammel_program_move_to_height (TrammelProgram *program, double z);

/**
 * trammel_program_draw:
 * @z: height of the path; filament only
 * @approach: (nullable): the tool goes to this place first and from there, without feed and no faster than it draws, to
 * where the path starts, so that what has play takes it up
 *
 * Goes over to the path at @z + lift, or lifted by the machine's own lines, and draws it.
 */
void trammel_program_draw (TrammelProgram *program, double z, const TrammelPoint *approach, const TrammelPath *path);

G_END_DECLS
