/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "base/record.h"

G_BEGIN_DECLS

typedef enum
{
  TRAMMEL_PART_MOTOR,
  TRAMMEL_PART_STAGE,
  TRAMMEL_PART_OUTPUT,
} TrammelPartRole;

/* One part of a train, editable in place: its kind, its fields, and for a stage moving, removing and adding.
 * Signals: edited (TrammelRecord *), moved (int by −1 or +1), removed, selected (clicked or focused). */
#define TRAMMEL_TYPE_PART_CARD (trammel_part_card_get_type ())
G_DECLARE_FINAL_TYPE (TrammelPartCard, trammel_part_card, TRAMMEL, PART_CARD, GtkWidget)

GtkWidget *trammel_part_card_new (TrammelPartRole role);

/* @title: "Motor", "Stage 2"; @unit: of lengths typed without one; @rotary_outputs: offer only those outputs that turn
 * (or only those that do not). */
void trammel_part_card_show (TrammelPartCard *card, const char *title, const TrammelRecord *record,
                             const TrammelUnit *unit, gboolean rotary_outputs);
/* Before a part of another axis is shown: drops text that could not be used in the old one. */
void trammel_part_card_restore (TrammelPartCard *card);
void trammel_part_card_set_position (TrammelPartCard *card, gboolean first, gboolean last);
void trammel_part_card_set_selected (TrammelPartCard *card, gboolean selected);
/* What is wrong with this part, under its title; NULL: nothing. */
void trammel_part_card_set_trouble (TrammelPartCard *card, const char *trouble);

G_END_DECLS
