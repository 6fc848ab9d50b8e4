/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <pango/pangocairo.h>

#include "draw/train-paint.h"

G_BEGIN_DECLS

#define TRAMMEL_NOTES_FONT "Sans 11px"

/* Texts on the drawing of a train, and where there already is one. */
typedef struct
{
  const TrammelPainter *painter;
  const TrammelLayout *layout;
  const TrammelView *view;
  GHashTable *texts;
  GArray *taken; /* of TrammelBox, pixels */
} TrammelNotes;

double trammel_view_x (const TrammelView *view, double x);
double trammel_view_y (const TrammelView *view, double y);

/* Laid out once for all paintings (borrowed). */
PangoLayout *trammel_notes_text (const TrammelNotes *notes, const char *text, const char *font);
void trammel_notes_show (const TrammelNotes *notes, PangoLayout *layout, double x, double y, TrammelColor color);
/* How bad a place for a text of @owner is: off the picture, on another text, on something nearer, on anything (unless
 * @inside). 500 and more: better left out. */
double trammel_notes_cost (const TrammelNotes *notes, const TrammelShape *owner, TrammelBox box, gboolean inside);

/* Center distances, pitch diameters and the lead of the screw. */
void trammel_paint_dimensions (TrammelNotes *notes);

G_END_DECLS
