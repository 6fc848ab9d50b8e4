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
  gboolean beyond; /* more than there should be: told by the color, and by the value's words */
} TrammelMeter;

/* An empty list of TrammelMeter that frees them. (transfer full) */
GArray *trammel_meters_new (void);
/* Takes @name and @value over. */
void trammel_meters_add (GArray *meters, char *name, char *value, double share, gboolean beyond);

/* Shows @meters in the rows of @grid; its widgets are kept and written anew. @grid hides when there are none. */
void trammel_meter_rows_show (GtkGrid *grid, const GArray *meters);

G_END_DECLS
