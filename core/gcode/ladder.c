/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "gcode/ladder-private.h"

#include <glib/gi18n-lib.h>
#include <math.h>

#include "base/error.h"
#include "base/number.h"
#include "measure/instrument.h"

/* With a vernier, pairs that stand before pair 0. */
#define PAIRS_BEFORE 2
#define FIFTH_LONGER 1.25
#define ZERO_LONGER 1.5
/* Lines nearer than this many of their widths run together. */
#define LEAST_SPACING 2

static const TrammelToolLength lengths[] = {
  { "spacing", G_STRUCT_OFFSET (TrammelLadder, spacing), FALSE },
  { "length", G_STRUCT_OFFSET (TrammelLadder, length), FALSE },
  { "approach", G_STRUCT_OFFSET (TrammelLadder, approach), FALSE },
  { "vernier", G_STRUCT_OFFSET (TrammelLadder, vernier), FALSE },
};

static gboolean
check_lines (const TrammelLadder *ladder, GError **error)
{
  const double width = ladder->tool.bead_width;
  const double most = ladder->spacing / 2 / (ladder->n_lines - 1);

  if (ladder->spacing < LEAST_SPACING * width)
    return trammel_tool_refuse (
        error, _ ("spacing: %g mm is too close for lines %g mm wide; at least %g mm is wanted, or a narrower line"),
        ladder->spacing, width, LEAST_SPACING * width);
  if (ladder->length < width)
    return trammel_tool_refuse (error, _ ("length: found %g mm; at least the width of the line, %g mm, is wanted"),
                                ladder->length, width);
  if (ladder->vernier > 0 && ladder->n_lines < PAIRS_BEFORE + 2)
    return trammel_tool_refuse (error, _ ("lines: found %d; with a vernier at least %d are wanted"), ladder->n_lines,
                                PAIRS_BEFORE + 2);
  if (ladder->vernier > most * (1 + 1e-9))
    return trammel_tool_refuse (
        error,
        _ ("vernier: over %d lines %g mm add up to more than half the spacing, so that pairs cannot be told apart; at "
           "most %g mm is wanted, or fewer lines"),
        ladder->n_lines, ladder->vernier, floor (most * 1000) / 1000);
  return TRUE;
}

/* The near comb is the longer one. The way from the near edge to the middle holds the longest line. */
static void
find_size (TrammelLadder *ladder)
{
  const double width = ladder->tool.bead_width, wide = ladder->spacing + ladder->vernier;
  const double along = width + (ladder->n_lines - 1) * wide;
  const double longest = ladder->length * (ladder->vernier > 0 ? ZERO_LONGER : FIFTH_LONGER);

  ladder->zero = ladder->vernier > 0 ? PAIRS_BEFORE : 0;
  ladder->middle = width / 2 + longest + width;
  const double start = MAX (2 * ladder->middle + ladder->spacing, ladder->approach);
  ladder->first = start + width / 2 + ladder->zero * wide;
  ladder->size = start + along + ladder->approach;
}

static double
length_of (const TrammelLadder *ladder, int pair)
{
  if (ladder->vernier > 0 && pair == 0)
    return ladder->length * ZERO_LONGER;
  return ladder->length * (pair % 5 == 0 ? FIFTH_LONGER : 1);
}

/* From along and across the axis @letter to X and Y. */
static TrammelPoint
point_of (char letter, double along, double across)
{
  return letter == 'X' ? (TrammelPoint){ along, across } : (TrammelPoint){ across, along };
}

static TrammelLadderLine
line_of (const TrammelLadder *ladder, char letter, gboolean up, int pair)
{
  const double along = ladder->first + pair * (ladder->spacing + (up ? ladder->vernier : 0));
  const double inward = up ? 1 : -1;
  const double inner = ladder->middle - inward * ladder->tool.bead_width;
  const double outer = inner - inward * length_of (ladder, pair);

  return (TrammelLadderLine){ .letter = letter,
                              .up = up,
                              .pair = pair,
                              .from = point_of (letter, along, outer),
                              .to = point_of (letter, along, inner),
                              .approach = point_of (letter, along - inward * ladder->approach, outer) };
}

static void
list_lines (TrammelLadder *ladder)
{
  ladder->lines = g_array_new (FALSE, FALSE, sizeof (TrammelLadderLine));
  for (const char *letter = "XY"; *letter; letter++)
    for (int up = 1; up >= 0; up--)
      for (int i = 0; i < ladder->n_lines; i++)
        {
          TrammelLadderLine line = line_of (ladder, *letter, up, i - ladder->zero);
          g_array_append_val (ladder->lines, line);
        }
}

static void
add_feature (TrammelLadder *ladder, char letter, int pair, const char *name, double u, char *note)
{
  const TrammelLadderLine near = line_of (ladder, letter, TRUE, pair), far = line_of (ladder, letter, FALSE, pair);
  const double origin = letter == 'X' ? ladder->tool.origin_x : ladder->tool.origin_y;
  TrammelFeature feature = { .kind = TRAMMEL_READING_REVERSAL,
                             .along = { { letter }, { 1 } },
                             .nominal = origin + (letter == 'X' ? far.to.x : far.to.y),
                             .from = near.to,
                             .to = far.to,
                             .name = name,
                             .u = u,
                             .note = note };

  g_array_append_val (ladder->features, feature);
}

/* To three digits, which is more than an eye is worth. */
static double
u_of_vernier (double vernier)
{
  const double u = trammel_resolution_u (vernier);
  const double unit = pow (10, floor (log10 (u)) - 2);

  return round (u / unit) * unit;
}

static void
list_features (TrammelLadder *ladder)
{
  g_autofree char *step = trammel_number_to_text (ladder->vernier);

  ladder->features = trammel_feature_array_new ();
  for (const char *letter = "XY"; *letter; letter++)
    {
      if (ladder->vernier > 0)
        {
          add_feature (ladder, *letter, 0, _ ("pair that meets"), u_of_vernier (ladder->vernier),
                       /* translators: %s is the step of the vernier in mm */
                       g_strdup_printf (_ ("number of the pair that meets, from the longest, × %s mm"), step));
          continue;
        }
      const int last = ladder->n_lines - 1;
      add_feature (ladder, *letter, 0, _ ("first pair"), NAN, g_strdup (_ ("first pair")));
      add_feature (ladder, *letter, last / 2, _ ("middle pair"), NAN, g_strdup (_ ("middle pair")));
      add_feature (ladder, *letter, last, _ ("last pair"), NAN, g_strdup (_ ("last pair")));
    }
}

static gboolean
lay_out (TrammelLadder *ladder, GError **error)
{
  const TrammelTool *tool = &ladder->tool;

  if (!trammel_tool_init (&ladder->tool, ladder->machine, error)
      || !trammel_tool_read (tool, ladder, lengths, G_N_ELEMENTS (lengths), error))
    return FALSE;
  ladder->n_lines = (int)trammel_record_integer (tool->piece, "lines");
  if (!check_lines (ladder, error))
    return FALSE;
  find_size (ladder);
  if (!trammel_tool_reaches (tool, ladder->size, ladder->size, tool->layer_height, error))
    return FALSE;

  list_lines (ladder);
  list_features (ladder);
  return TRUE;
}

TrammelLadder *
trammel_ladder_new (const TrammelMachine *machine, GError **error)
{
  g_autoptr (TrammelLadder) ladder = NULL;

  g_return_val_if_fail (machine != NULL, NULL);

  ladder = g_new0 (TrammelLadder, 1);
  ladder->machine = trammel_machine_ref (machine);
  if (!trammel_record_is (trammel_machine_piece (machine), "ladder"))
    {
      trammel_tool_refuse (error, _ ("the machine's piece is not a ladder of lines"));
      return NULL;
    }
  if (!lay_out (ladder, error))
    return NULL;
  return g_steal_pointer (&ladder);
}

void
trammel_ladder_free (TrammelLadder *ladder)
{
  if (!ladder)
    return;
  g_clear_pointer (&ladder->lines, g_array_unref);
  g_clear_pointer (&ladder->features, g_array_unref);
  trammel_machine_unref (ladder->machine);
  g_free (ladder);
}

const TrammelLadderLine *
trammel_ladder_lines (const TrammelLadder *ladder, gsize *n)
{
  g_return_val_if_fail (ladder != NULL && n != NULL, NULL);

  *n = ladder->lines->len;
  return (const TrammelLadderLine *)(gpointer)ladder->lines->data;
}

double
trammel_ladder_size (const TrammelLadder *ladder)
{
  g_return_val_if_fail (ladder != NULL, NAN);

  return ladder->size;
}

double
trammel_ladder_line_width (const TrammelLadder *ladder)
{
  g_return_val_if_fail (ladder != NULL, NAN);

  return ladder->tool.bead_width;
}

double
trammel_ladder_vernier (const TrammelLadder *ladder)
{
  g_return_val_if_fail (ladder != NULL, NAN);

  return ladder->vernier;
}

const GArray *
trammel_ladder_features (const TrammelLadder *ladder)
{
  g_return_val_if_fail (ladder != NULL, NULL);

  return ladder->features;
}
