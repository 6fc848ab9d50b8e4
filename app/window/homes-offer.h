/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "window/session.h"

G_BEGIN_DECLS

/* A list of numbers that was pasted does not say what it is of. Repeated homes of an axis look like that, so this
 * offers to make the rows those, with a button for each axis. Hidden until there is something to offer, and again when
 * the readings have become others.
 *
 * Signal: made (offer): the rows are homes now */
#define TRAMMEL_TYPE_HOMES_OFFER (trammel_homes_offer_get_type ())
G_DECLARE_FINAL_TYPE (TrammelHomesOffer, trammel_homes_offer, TRAMMEL, HOMES_OFFER, GtkWidget)

/* Rows @first … @first+@n−1 of the session's readings were pasted. Nothing is offered where they say what they are of,
 * or there are fewer than three. */
void trammel_homes_offer_show (TrammelHomesOffer *offer, TrammelSession *session, gsize first, gsize n);

/* The session's machine may be another one. */
void trammel_homes_offer_update (TrammelHomesOffer *offer);

G_END_DECLS
