/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include <gtk/gtk.h>
#include "base/amount.h"

G_BEGIN_DECLS

/* A quantity above 0 to type for a calculation (not a field of the machine): its label, an entry, one for its standard
 * uncertainty where that is wanted, and below them what cannot be read. Somebody still typing is not told off.
 *
 * Signal: changed (entry): another amount is typed, or none any more */
#define TRAMMEL_TYPE_AMOUNT_ENTRY (trammel_amount_entry_get_type ())
G_DECLARE_FINAL_TYPE (TrammelAmountEntry, trammel_amount_entry, TRAMMEL, AMOUNT_ENTRY, GtkWidget)

typedef enum
{
  TRAMMEL_AMOUNT_BLANK, /* nothing is typed, and nothing counts then */
  TRAMMEL_AMOUNT_REFUSED,
  TRAMMEL_AMOUNT_READ,
} TrammelAmountState;

/* What to ask for; texts translated, borrowed for good. */
typedef struct
{
  const char *label, *meaning;
  TrammelDimension dimension;
  gboolean has_u;
  const char *table; /* (nullable): key of the table whose rows are offered while somebody types */
} TrammelAmountKind;

/* @labels (nullable): group of labels that are to be equally wide. */
GtkWidget *trammel_amount_entry_new (const TrammelAmountKind *kind, GtkSizeGroup *labels);

/* The unit of a bare number, and what is shown where nothing is typed and nothing counts. */
void trammel_amount_entry_set_unit (TrammelAmountEntry *entry, const TrammelUnit *unit);

/* What counts where nothing is typed, as files hold it: "0.2 mm"; NULL for nothing. */
void trammel_amount_entry_set_usual (TrammelAmountEntry *entry, const char *text);

/* @out gets what is typed, or what counts; else it is left alone. */
TrammelAmountState trammel_amount_entry_read (TrammelAmountEntry *entry, TrammelAmount *out);
gboolean trammel_amount_entry_is_typed (TrammelAmountEntry *entry);

/* Puts @text in place of what is typed; as files hold it. Emits "changed" where that is another amount. */
void trammel_amount_entry_set_text (TrammelAmountEntry *entry, const char *text);

G_END_DECLS
