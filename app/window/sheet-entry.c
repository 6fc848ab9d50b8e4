/* SPDX-License-Identifier: GPL-3.0-or-later */
/* The text over the current cell of the sheet. */
#include "window/sheet-private.h"

#include <glib/gi18n.h>

/* (transfer full) */
static char *
cell_text (TrammelSheet *self)
{
  const TrammelReading *reading = trammel_sheet_row (self, self->cursor.row);
  if (!reading)
    return g_strdup ("");
  return trammel_cell_to_edit (reading, self->cursor.column, trammel_sheet_unit (self));
}

/* As the sheet shows it while nothing is typed. (transfer full) */
static char *
shown_text (TrammelSheet *self)
{
  const TrammelReading *reading = trammel_sheet_row (self, self->cursor.row);
  return reading ? trammel_cell_to_show (reading, self->cursor.column, trammel_sheet_unit (self)) : g_strdup ("");
}

/* (transfer full) */
static char *
name_of_cell (TrammelSheet *self)
{
  g_autofree char *text = shown_text (self);
  const char *title = trammel_sheet_column_title (self->cursor.column);
  if (!*text)
    return g_strdup_printf (C_ ("cell of the sheet", "%s, row %d, empty"), title, self->cursor.row + 1);
  return g_strdup_printf (C_ ("cell of the sheet", "%s, row %d: %s"), title, self->cursor.row + 1, text);
}

/* What assistive technology says of the cell: which it is, what it holds (it does not look into a bare text), and what
 * is wrong with it. */
static void
name_entry (TrammelSheet *self)
{
  g_autofree char *name = name_of_cell (self);
  g_autofree char *trouble = trammel_sheet_trouble_of (self, self->cursor.row, self->cursor.column);
  gboolean bad = trouble != NULL;
  if (!trouble)
    trouble = trammel_sheet_suspicion_of (self, self->cursor.row);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->text), GTK_ACCESSIBLE_PROPERTY_LABEL, name,
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, trouble ? trouble : "", -1);
  gtk_accessible_update_state (GTK_ACCESSIBLE (self->text), GTK_ACCESSIBLE_STATE_INVALID,
                               bad ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

static void
set_mode (TrammelSheet *self, TrammelSheetMode mode)
{
  self->mode = mode;
  /* While moving, the pointer is for the sheet: it selects cells, not letters */
  gtk_widget_set_can_target (GTK_WIDGET (self->text), mode != TRAMMEL_SHEET_MOVING);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
trammel_sheet_fill_entry (TrammelSheet *self)
{
  g_autofree char *text = shown_text (self);

  self->filling = TRUE;
  if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (self->text)), text))
    gtk_editable_set_text (GTK_EDITABLE (self->text), text);
  gtk_editable_set_alignment (GTK_EDITABLE (self->text), trammel_cell_is_numeric (self->cursor.column) ? 1 : 0);
  gtk_editable_set_position (GTK_EDITABLE (self->text), -1);
  self->typed_length = strlen (text);
  self->completed = 0;
  self->filling = FALSE;
  set_mode (self, TRAMMEL_SHEET_MOVING);
  name_entry (self);
}

void
trammel_sheet_take_text (TrammelSheet *self, const char *text)
{
  g_autofree char *before = cell_text (self);
  set_mode (self, TRAMMEL_SHEET_MOVING);
  if (g_str_equal (text, before))
    {
      trammel_sheet_fill_entry (self);
      return;
    }
  trammel_sheet_put (self,
                     trammel_cells_with_text (trammel_sheet_readings (self), self->cursor.row, self->cursor.column,
                                              text, trammel_sheet_unit (self)),
                     _ ("change a reading"));
}

void
trammel_sheet_commit (TrammelSheet *self)
{
  if (self->mode == TRAMMEL_SHEET_MOVING)
    return;
  g_autofree char *text = g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->text)));
  trammel_sheet_take_text (self, text);
}

static void
show_all_digits (TrammelSheet *self)
{
  g_autofree char *text = cell_text (self);
  self->filling = TRUE;
  if (!g_str_equal (gtk_editable_get_text (GTK_EDITABLE (self->text)), text))
    gtk_editable_set_text (GTK_EDITABLE (self->text), text);
  self->filling = FALSE;
}

void
trammel_sheet_begin_editing (TrammelSheet *self)
{
  trammel_sheet_select_cell (self);
  if (self->mode == TRAMMEL_SHEET_MOVING)
    show_all_digits (self);
  set_mode (self, TRAMMEL_SHEET_EDITING);
  gtk_editable_set_position (GTK_EDITABLE (self->text), -1);
}

void
trammel_sheet_begin_entering (TrammelSheet *self)
{
  self->filling = TRUE;
  gtk_editable_delete_text (GTK_EDITABLE (self->text), 0, -1);
  self->filling = FALSE;
  self->typed_length = 0;
  self->completed = 0;
  trammel_sheet_select_cell (self);
  set_mode (self, TRAMMEL_SHEET_ENTERING);
}

/* What was completed is selected, so that going on typing replaces it. But word that another selection has taken the
 * primary clipboard comes late, and takes the selection away under quick fingers: then it is replaced here. */
static void
drop_what_was_completed (TrammelSheet *self)
{
  self->filling = TRUE;
  gtk_editable_delete_text (GTK_EDITABLE (self->text), self->completed, -1);
  self->filling = FALSE;
  self->completed = 0;
}

static gboolean
completion_follows (TrammelSheet *self, int position)
{
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->text));
  return self->completed > 0 && position == self->completed && g_utf8_strlen (text, -1) > position;
}

/* "o" becomes "outside" with what was added selected, so that going on typing replaces it. */
static void
complete (TrammelSheet *self)
{
  const char *typed = gtk_editable_get_text (GTK_EDITABLE (self->text));
  gsize length = strlen (typed);
  gboolean grown = length > self->typed_length;
  int position = gtk_editable_get_position (GTK_EDITABLE (self->text));
  int characters = (int)g_utf8_strlen (typed, -1);
  self->typed_length = length;
  if (!grown || position != characters)
    return;

  g_autofree char *whole = trammel_sheet_completion (self, self->cursor.column, typed);
  if (!whole)
    return;
  self->filling = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->text), whole);
  gtk_editable_select_region (GTK_EDITABLE (self->text), characters, -1);
  self->completed = characters;
  self->filling = FALSE;
}

static gboolean
complete_when_idle (gpointer data)
{
  TrammelSheet *self = data;
  self->completing = 0;
  if (self->text && self->mode == TRAMMEL_SHEET_ENTERING)
    complete (self);
  return G_SOURCE_REMOVE;
}

static void
text_changed (TrammelSheet *self)
{
  if (self->filling)
    return;
  /* Changed by assistive technology, say, without a letter inserted */
  if (self->mode == TRAMMEL_SHEET_MOVING)
    {
      self->typed_length = 0;
      trammel_sheet_select_cell (self);
      set_mode (self, TRAMMEL_SHEET_ENTERING);
    }
  /* A letter typed over what was completed is two changes, a deletion and an insertion, but one to complete */
  if (self->mode == TRAMMEL_SHEET_ENTERING && trammel_sheet_has_choices (self->cursor.column) && self->completing == 0)
    self->completing = g_idle_add_full (G_PRIORITY_HIGH, complete_when_idle, g_object_ref (self), g_object_unref);
}

/* The first letter typed into a cell replaces what is there. The old text is not selected for that: to select text is
 * to take the primary clipboard away from others, and costs a round trip with every move. */
static void
text_inserted (GtkEditable *text, const char *inserted, int length, int *position, TrammelSheet *self)
{
  if (self->filling)
    return;
  if (completion_follows (self, *position))
    drop_what_was_completed (self);
  if (self->mode != TRAMMEL_SHEET_MOVING)
    return;
  trammel_sheet_begin_entering (self);
  *position = 0;
}

/* Backspace after a completion takes that away first. */
static void
text_deleted (GtkEditable *text, int start, int end, TrammelSheet *self)
{
  if (self->filling || !completion_follows (self, end))
    return;
  drop_what_was_completed (self);
  g_signal_stop_emission_by_name (text, "delete-text");
}

static void
preedit_changed (GtkText *text, const char *preedit, TrammelSheet *self)
{
  self->composing = preedit && *preedit;
  if (self->composing && self->mode == TRAMMEL_SHEET_MOVING)
    trammel_sheet_begin_entering (self);
}

static void
focus_changed (TrammelSheet *self)
{
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
focus_left (TrammelSheet *self)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (self)) && !(self->choices && gtk_widget_get_visible (self->choices)))
    trammel_sheet_commit (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
trammel_sheet_make_entry (TrammelSheet *self)
{
  self->text = g_object_new (GTK_TYPE_TEXT, "accessible-role", GTK_ACCESSIBLE_ROLE_TEXT_BOX, "enable-undo", FALSE,
                             "can-target", FALSE, NULL);
  gtk_widget_set_parent (GTK_WIDGET (self->text), GTK_WIDGET (self));
  g_signal_connect (self->text, "insert-text", G_CALLBACK (text_inserted), self);
  g_signal_connect (self->text, "delete-text", G_CALLBACK (text_deleted), self);
  g_signal_connect_swapped (self->text, "changed", G_CALLBACK (text_changed), self);
  g_signal_connect (self->text, "preedit-changed", G_CALLBACK (preedit_changed), self);

  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (focus, "enter", G_CALLBACK (focus_changed), self);
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (focus_left), self);
  gtk_widget_add_controller (GTK_WIDGET (self->text), focus);
}
