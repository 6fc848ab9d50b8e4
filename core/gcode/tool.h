/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "machine/machine.h"

G_BEGIN_DECLS

/**
 * TrammelTool:
 *
 * How the machine lays down the lines of a test piece, whichever that is: the bead or the pen's line, the feed, the
 * speeds, and where the piece lies. From the machine's `piece` record, checked against its axes. A plain value.
 */
typedef struct
{
  const TrammelMachine *machine; /* borrowed */
  const TrammelRecord *piece;    /* the machine's */

  /* As in the record: mm, mm/s. Speeds are held to what the drives of X, Y, Z and the feed can follow
   * (TrammelFacts.top_speed), where it is known. */
  double bead_width, layer_height, speed, travel_speed, lift;
  double origin_x, origin_y, filament_diameter;
  gboolean filament; /* FALSE: a feed that is only on or off, one pass on the bed */
  char feed_letter;

  double lift_speed; /* of moves in Z */
} TrammelTool;

/* A length or speed of a record, and where it goes. */
typedef struct
{
  const char *key;
  gsize offset; /* of a double */
  gboolean filament_only;
} TrammelToolLength;

/**
 * trammel_tool_init:
 * @machine: borrowed as long as @tool is used
 *
 * Errors, with the record's key first where there is one: TRAMMEL_ERROR_IMPOSSIBLE for axes that are missing or are not
 * linear, and for parameters that do not go together; those of trammel_record_check().
 */
gboolean trammel_tool_init (TrammelTool *tool, const TrammelMachine *machine, GError **error);

/* The further parameters of a kind of piece, into @into. TRAMMEL_ERROR_IMPOSSIBLE "wall: not set, …". */
gboolean trammel_tool_read (const TrammelTool *tool, gpointer into, const TrammelToolLength *lengths, gsize n,
                            GError **error);

/* Cross section of a bead, mm²: layer·(width − layer) + π·layer²/4, a strip with rounded sides. */
double trammel_tool_bead_area (const TrammelTool *tool);
/* mm of filament per mm of bead; 0 without. */
double trammel_tool_filament_per_mm (const TrammelTool *tool);

/* Whether a piece @width by @depth and @height mm lies within the travel of the axes. TRAMMEL_ERROR_TOO_LARGE "the
 * piece needs 120.5 mm in X (10 mm origin + 110.5 mm) and the axis travels 100 mm". */
gboolean trammel_tool_reaches (const TrammelTool *tool, double width, double depth, double height, GError **error);

/* Sets a TRAMMEL_ERROR_IMPOSSIBLE and returns FALSE. */
gboolean trammel_tool_refuse (GError **error, const char *format, ...) G_GNUC_PRINTF (2, 3);

G_END_DECLS
