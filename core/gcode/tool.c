/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "gcode/tool.h"

#include <glib/gi18n-lib.h>
#include <math.h>
#include <string.h>

#include "base/error.h"

/* What the travel leaves: whole within 1 µm. */
#define CLOSE 1e-3

static const TrammelToolLength lengths[] = {
  { "bead_width", G_STRUCT_OFFSET (TrammelTool, bead_width), FALSE },
  { "layer_height", G_STRUCT_OFFSET (TrammelTool, layer_height), TRUE },
  { "speed", G_STRUCT_OFFSET (TrammelTool, speed), FALSE },
  { "travel_speed", G_STRUCT_OFFSET (TrammelTool, travel_speed), FALSE },
  { "lift", G_STRUCT_OFFSET (TrammelTool, lift), TRUE },
  { "origin_x", G_STRUCT_OFFSET (TrammelTool, origin_x), FALSE },
  { "origin_y", G_STRUCT_OFFSET (TrammelTool, origin_y), FALSE },
  { "filament_diameter", G_STRUCT_OFFSET (TrammelTool, filament_diameter), TRUE },
};

gboolean
trammel_tool_refuse (GError **error, const char *format, ...)
{
  va_list arguments;
  g_autofree char *message = NULL;

  va_start (arguments, format);
  message = g_strdup_vprintf (format, arguments);
  va_end (arguments);
  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_IMPOSSIBLE, message);
  return FALSE;
}

gboolean
trammel_tool_read (const TrammelTool *tool, gpointer into, const TrammelToolLength *of, gsize n, GError **error)
{
  for (gsize i = 0; i < n; i++)
    {
      double value = trammel_record_value (tool->piece, of[i].key);

      if (!isfinite (value) && (tool->filament || !of[i].filament_only))
        return trammel_tool_refuse (error, _ ("%s: not set, and the piece needs it"), of[i].key);
      G_STRUCT_MEMBER (double, into, of[i].offset) = value;
    }
  return TRUE;
}

double
trammel_tool_bead_area (const TrammelTool *tool)
{
  double layer = tool->layer_height;

  return layer * (tool->bead_width - layer) + G_PI * layer * layer / 4;
}

double
trammel_tool_filament_per_mm (const TrammelTool *tool)
{
  double radius = tool->filament_diameter / 2;

  return tool->filament ? trammel_tool_bead_area (tool) / (G_PI * radius * radius) : 0;
}

static const TrammelAxis *
find_axis (const TrammelTool *tool, char letter)
{
  int i = trammel_machine_axis_index (tool->machine, letter);

  return i < 0 ? NULL : trammel_machine_axis (tool->machine, i);
}

/* A piece is drawn along straight axes at right angles: X and Y, and Z where it has a height. */
static gboolean
check_axes (const TrammelTool *tool, GError **error)
{
  for (const char *letter = tool->filament ? "XYZ" : "XY"; *letter; letter++)
    {
      const TrammelAxis *axis = find_axis (tool, *letter);

      if (!axis)
        return trammel_tool_refuse (error, _ ("the machine has no axis %c, and the piece needs one"), *letter);
      if (trammel_axis_kind (axis) != TRAMMEL_AXIS_LINEAR)
        return trammel_tool_refuse (error, _ ("axis %c is a %s axis; the piece needs a linear one"), *letter,
                                    trammel_axis_kind_label (trammel_axis_kind (axis)));
    }
  return TRUE;
}

static gboolean
check_feed_letter (TrammelTool *tool, GError **error)
{
  const char *text = trammel_record_string (tool->piece, "feed_letter");
  const TrammelAxis *axis;

  if (!text || !g_ascii_isupper (text[0]) || text[1] != '\0' || strchr ("XYZFGMNT", text[0]))
    return trammel_tool_refuse (error,
                                _ ("feed_letter: found “%s”; one capital letter is wanted, not one of F G M N T X Y Z"),
                                text ? text : "");
  axis = find_axis (tool, text[0]);
  if (axis && trammel_axis_kind (axis) != TRAMMEL_AXIS_FEED)
    return trammel_tool_refuse (error, _ ("feed_letter: %c is a %s axis of this machine; a feed axis is wanted"),
                                text[0], trammel_axis_kind_label (trammel_axis_kind (axis)));
  tool->feed_letter = text[0];
  return TRUE;
}

static gboolean
has_lines (const TrammelTool *tool, const char *key)
{
  const char *text = trammel_record_string (tool->piece, key);

  return text && *text;
}

/* A feed that is only on or off is switched by the machine's own lines; what is put down must be taken up again. */
static gboolean
check_own_lines (const TrammelTool *tool, GError **error)
{
  gboolean feed = has_lines (tool, "feed_on"), lower = has_lines (tool, "lower_lines");

  if (!feed && !lower)
    return trammel_tool_refuse (
        error, _ ("feed_on: empty; with feed “none” the machine's own lines that put the pen down (feed_on, "
                  "or lower_lines) are needed"));
  if (feed && !has_lines (tool, "feed_off"))
    return trammel_tool_refuse (error, _ ("feed_off: empty; what feed_on starts must be stopped again"));
  if (lower && !has_lines (tool, "lift_lines"))
    return trammel_tool_refuse (error, _ ("lift_lines: empty; what lower_lines puts down must be lifted again"));
  return TRUE;
}

static gboolean
check_bead (const TrammelTool *tool, GError **error)
{
  if (!(tool->bead_width > 0) || !(tool->speed > 0) || !(tool->travel_speed > 0))
    return trammel_tool_refuse (error, _ ("bead_width, speed and travel_speed must be above 0"));
  if (!tool->filament)
    return TRUE;
  if (!(tool->layer_height > 0) || tool->layer_height > tool->bead_width)
    return trammel_tool_refuse (
        error, _ ("layer_height: found %g mm; above 0 and not above the bead's width, %g mm, is wanted"),
        tool->layer_height, tool->bead_width);
  if (!(tool->filament_diameter > 0) || !(tool->lift >= 0))
    return trammel_tool_refuse (error, _ ("filament_diameter must be above 0, and lift not below"));
  return TRUE;
}

/* What the axis can do at most; infinite when its drive does not tell. */
static double
top_speed (const TrammelTool *tool, char letter)
{
  const TrammelAxis *axis = find_axis (tool, letter);
  g_autoptr (TrammelFacts) facts = axis ? trammel_train_facts (trammel_axis_train (axis), NULL) : NULL;

  return facts && isfinite (facts->top_speed) ? facts->top_speed : INFINITY;
}

/* No axis is asked for more than its drive can follow: it would lose counts, and the piece its size. */
static void
hold_speeds (TrammelTool *tool)
{
  double across = MIN (top_speed (tool, 'X'), top_speed (tool, 'Y'));

  tool->speed = MIN (tool->speed, across);
  tool->travel_speed = MIN (tool->travel_speed, across);
  tool->lift_speed = tool->travel_speed;
  if (!tool->filament)
    return;
  tool->lift_speed = MIN (tool->travel_speed, top_speed (tool, 'Z'));
  tool->speed = MIN (tool->speed, top_speed (tool, tool->feed_letter) / trammel_tool_filament_per_mm (tool));
}

gboolean
trammel_tool_init (TrammelTool *tool, const TrammelMachine *machine, GError **error)
{
  g_return_val_if_fail (tool != NULL && machine != NULL, FALSE);

  *tool = (TrammelTool){ .machine = machine, .piece = trammel_machine_piece (machine) };
  if (!trammel_record_check (tool->piece, error))
    return FALSE;
  tool->filament = g_strcmp0 (trammel_record_choice (tool->piece, "feed"), "none") != 0;
  if (!trammel_tool_read (tool, tool, lengths, G_N_ELEMENTS (lengths), error) || !check_axes (tool, error)
      || !check_bead (tool, error)
      || !(tool->filament ? check_feed_letter (tool, error) : check_own_lines (tool, error)))
    return FALSE;
  hold_speeds (tool);
  return TRUE;
}

static gboolean
reaches_along (const TrammelTool *tool, char letter, double origin, double length, GError **error)
{
  double travel = trammel_axis_travel_value (find_axis (tool, letter));

  if (!isfinite (travel))
    return TRUE;
  if (origin < 0)
    return trammel_tool_refuse (error, _ ("origin_%c: found %g mm; the axis travels from 0 to %g mm"),
                                g_ascii_tolower (letter), origin, travel);
  if (origin + length <= travel + CLOSE)
    return TRUE;
  g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_TOO_LARGE,
               letter == 'Z' ? _ ("the piece needs %g mm in %c (%g mm lift + %g mm) and the axis travels %g mm")
                             : _ ("the piece needs %g mm in %c (%g mm origin + %g mm) and the axis travels %g mm"),
               origin + length, letter, origin, length, travel);
  return FALSE;
}

gboolean
trammel_tool_reaches (const TrammelTool *tool, double width, double depth, double height, GError **error)
{
  g_return_val_if_fail (tool != NULL, FALSE);

  return reaches_along (tool, 'X', tool->origin_x, width, error)
         && reaches_along (tool, 'Y', tool->origin_y, depth, error)
         && (!tool->filament || reaches_along (tool, 'Z', tool->lift, height, error));
}
