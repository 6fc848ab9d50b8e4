/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* One page of the window, in the order of the job. A page is made when it is first shown. */
typedef struct
{
  const char *name;    /* "drive" */
  const char *title;   /* N_() */
  const char *meaning; /* N_(): what is done there */
  GtkWidget *(*make) (TrammelSession *session);
} TrammelPage;

const TrammelPage *trammel_pages (gsize *n);

G_END_DECLS
