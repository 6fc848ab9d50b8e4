/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "draw/position-names.h"

#include <glib/gi18n-lib.h>

#define AT(member_) G_STRUCT_OFFSET (TrammelPositionFigures, member_)

static const TrammelPositionName names[] = {
  { "A", "A", N_ ("accuracy, both directions"), AT (a) },
  { "A_up", "A↑", N_ ("accuracy moving up"), AT (a_up) },
  { "A_down", "A↓", N_ ("accuracy moving down"), AT (a_down) },
  { "R", "R", N_ ("repeatability, both directions"), AT (r) },
  { "R_up", "R↑", N_ ("repeatability moving up"), AT (r_up) },
  { "R_down", "R↓", N_ ("repeatability moving down"), AT (r_down) },
  { "E", "E", N_ ("systematic deviation, both directions"), AT (e) },
  { "E_up", "E↑", N_ ("systematic deviation moving up"), AT (e_up) },
  { "E_down", "E↓", N_ ("systematic deviation moving down"), AT (e_down) },
  { "M", "M", N_ ("range of the mean deviation"), AT (m) },
  { "B", "B", N_ ("greatest reversal"), AT (b) },
  { "B_mean", "B̄", N_ ("mean reversal"), AT (b_mean) },
};

const TrammelPositionName *
trammel_position_names (gsize *n)
{
  *n = G_N_ELEMENTS (names);
  return names;
}

double
trammel_position_figure (const TrammelPositionFigures *figures, const TrammelPositionName *name)
{
  return G_STRUCT_MEMBER (double, figures, name->offset);
}
