/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/piece.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "machine/codec-private.h"

static const char *const feed_keys[] = { "filament", "none", NULL };
static const char *const feed_labels[] = { N_ ("Filament, by length"), N_ ("On and off only"), NULL };

#define LENGTH(key, label, meaning, low, high, initial)                                                                \
  {                                                                                                                    \
    key, label, meaning, TRAMMEL_FIELD_QUANTITY, TRAMMEL_DIMENSION_LENGTH, low, high, FALSE, NULL, NULL, initial, TRUE \
  }
#define SPEED(key, label, meaning, initial)                                                                            \
  {                                                                                                                    \
    key, label, meaning, TRAMMEL_FIELD_QUANTITY, TRAMMEL_DIMENSION_SPEED, 0, 10000, TRUE, NULL, NULL, initial, TRUE    \
  }
#define TEXT(key, label, meaning, initial)                                                                             \
  {                                                                                                                    \
    key, label, meaning, TRAMMEL_FIELD_TEXT, TRAMMEL_DIMENSION_NUMBER, 0, 0, FALSE, NULL, NULL, initial, FALSE         \
  }

#define COUNT(key, label, meaning, low, high, initial)                                                                 \
  {                                                                                                                    \
    key, label, meaning, TRAMMEL_FIELD_INTEGER, TRAMMEL_DIMENSION_NUMBER, low, high, FALSE, NULL, NULL, initial, TRUE  \
  }

/* Initial values: common practice, no source. */
/* clang-format off */

/* How the lines of any piece are laid down; see gcode/tool.h. */
#define TOOL_FIELDS \
  LENGTH ("bead_width", N_ ("Bead width"), N_ ("width of one bead, or of the pen's line"), 0.02, 20, "0.5 mm"), \
  LENGTH ("layer_height", N_ ("Layer height"), N_ ("height of one layer"), 0.01, 20, "0.2 mm"), \
  SPEED ("speed", N_ ("Speed"), N_ ("speed of the tool while it lays down a bead"), "30 mm/s"), \
  SPEED ("travel_speed", N_ ("Travel speed"), N_ ("speed of the tool between beads"), "80 mm/s"), \
  LENGTH ("lift", N_ ("Lift"), N_ ("clearance over the piece while the tool moves without feed"), 0, 200, "1 mm"), \
  LENGTH ("origin_x", N_ ("Origin X"), N_ ("where the near left corner of the piece lies in X"), -10000, 10000, \
          "10 mm"), \
  LENGTH ("origin_y", N_ ("Origin Y"), N_ ("where the near left corner of the piece lies in Y"), -10000, 10000, \
          "10 mm"), \
  { "feed", N_ ("Feed"), N_ ("how the feed is commanded"), TRAMMEL_FIELD_CHOICE, TRAMMEL_DIMENSION_NUMBER, 0, 0, FALSE, \
    feed_keys, feed_labels, "filament", TRUE }, \
  LENGTH ("filament_diameter", N_ ("Filament diameter"), N_ ("diameter of the filament that is fed"), 0.1, 20, \
          "1.75 mm"), \
  TEXT ("feed_letter", N_ ("Feed letter"), N_ ("axis letter that commands the length of filament"), "E"), \
  TEXT ("feed_on", N_ ("Feed on"), N_ ("the machine's own lines that start the feed"), NULL), \
  TEXT ("feed_off", N_ ("Feed off"), N_ ("the machine's own lines that stop the feed"), NULL), \
  TEXT ("lift_lines", N_ ("Lift lines"), N_ ("the machine's own lines that lift the tool"), NULL), \
  TEXT ("lower_lines", N_ ("Lower lines"), N_ ("the machine's own lines that lower the tool"), NULL), \
  TEXT ("start_lines", N_ ("Start lines"), N_ ("the machine's own lines before the piece"), NULL), \
  TEXT ("end_lines", N_ ("End lines"), N_ ("the machine's own lines after the piece"), NULL)

static const TrammelField square_fields[] = {
  LENGTH ("size", N_ ("Size"), N_ ("outer side of the square"), 20, 1000, "100 mm"),
  LENGTH ("wall", N_ ("Wall"), N_ ("width of the frame's sides"), 0.1, 100, "4 mm"),
  LENGTH ("step", N_ ("Step"), N_ ("how much shorter than the size the outside is at the step"), 0.1, 500, "20 mm"),
  LENGTH ("height", N_ ("Height"), N_ ("height of the corners above the bed"), 0.05, 200, "3 mm"),
  LENGTH ("step_height", N_ ("Step height"), N_ ("height of the sides between the corners above the bed"), 0.05, 200,
          "1.6 mm"),
  TOOL_FIELDS,
};

static const TrammelField ladder_fields[] = {
  COUNT ("lines", N_ ("Lines"), N_ ("lines of each comb"), 3, 200, "21"),
  LENGTH ("spacing", N_ ("Spacing"), N_ ("from line to line"), 0.1, 100, "2 mm"),
  LENGTH ("length", N_ ("Length"), N_ ("of an ordinary line"), 0.5, 200, "8 mm"),
  LENGTH ("approach", N_ ("Approach"), N_ ("stroke by which a line is approached; longer than the play"), 0.5, 100,
          "5 mm"),
  LENGTH ("vernier", N_ ("Vernier"), N_ ("how much farther apart the facing lines stand; 0: measure the distance"), 0, 1,
          "0.05 mm"),
  TOOL_FIELDS,
};
/* clang-format on */

static const TrammelRecordKind square = {
  .type = "square",
  .label = N_ ("Calibration square"),
  .fields = square_fields,
  .n_fields = G_N_ELEMENTS (square_fields),
};

static const TrammelRecordKind ladder = {
  .type = "ladder",
  .label = N_ ("Ladder of lines"),
  .fields = ladder_fields,
  .n_fields = G_N_ELEMENTS (ladder_fields),
};

static const TrammelRecordKind *const kinds[] = { &square, &ladder };

const TrammelRecordKind *const *
trammel_piece_kinds (gsize *n)
{
  g_return_val_if_fail (n != NULL, NULL);
  *n = G_N_ELEMENTS (kinds);
  return kinds;
}

const TrammelRecordKind *
trammel_piece_kind (const char *type)
{
  g_return_val_if_fail (type != NULL, NULL);
  for (gsize i = 0; i < G_N_ELEMENTS (kinds); i++)
    if (g_str_equal (kinds[i]->type, type))
      return kinds[i];
  return NULL;
}

/* The members of @piece but its type, as the text of an object. (transfer full) (nullable) */
static char *
members_of (const TrammelRecord *piece)
{
  static const TrammelPlace place = { NULL, "piece", 0 };
  g_auto (TrammelJsonObject) members = { 0 };
  g_autofree char *text = NULL;
  TrammelJsonWriter writer;
  TrammelJson whole, type;
  gsize length;

  trammel_json_writer_init (&writer);
  trammel_codec_write_record (&writer, NULL, piece, TRUE);
  text = trammel_json_writer_finish (&writer, &length);
  if (!trammel_json_check (text, length, &whole, NULL)
      || !trammel_codec_open_object (&place, whole, "", &members, NULL))
    return NULL;
  trammel_json_object_take (&members, "type", &type);
  return trammel_json_object_rest (&members);
}

/* What a file of the other kind would be read as: members that a kind does not know are kept, and known again later. */
TrammelRecord *
trammel_piece_of_kind (const TrammelRecord *piece, const TrammelRecordKind *kind)
{
  static const TrammelPlace place = { NULL, "piece", 0 };
  TrammelRecord *made = NULL;
  TrammelJson whole;

  g_return_val_if_fail (piece != NULL && kind != NULL, NULL);

  g_autofree char *members = members_of (piece);
  if (members && trammel_json_check (members, strlen (members), &whole, NULL))
    made = trammel_codec_read_record_of (&place, whole, kind, NULL);
  return made ? made : trammel_record_new (kind);
}
