/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

#define TRAMMEL_TYPE_PIECE_PAGE (trammel_piece_page_get_type ())
G_DECLARE_FINAL_TYPE (TrammelPiecePage, trammel_piece_page, TRAMMEL, PIECE_PAGE, GtkWidget)

GtkWidget *trammel_piece_page_new (TrammelSession *session);

G_END_DECLS
