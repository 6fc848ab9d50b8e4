/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>

G_BEGIN_DECLS

/* A bar with its name before it and its value after it. */
typedef struct
{
  char *name;
  char *value;
  double share;    /* of the full bar; more is shown full; NaN: empty */
  double mark;     /* of the full bar: where a line stands across it; NaN: none */
  gboolean beyond; /* more than there should be: told by the color, and by the value's words */
} TrammelMeter;

/* An empty list of TrammelMeter that frees them. (transfer full) */
GArray *trammel_meters_new (void);
/* Takes @name and @value over. */
void trammel_meters_add (GArray *meters, char *name, char *value, double share, double mark, gboolean beyond);

/* Shows @meters in the rows of @grid; its widgets are kept and written anew. @grid hides when there are none.
 * @with_scale: 0, 50 % and 100 % under them. */
void trammel_meter_rows_show (GtkGrid *grid, const GArray *meters, gboolean with_scale);

G_END_DECLS
