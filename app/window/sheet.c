/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/sheet-private.h"

#include <glib/gi18n.h>
#include <math.h>
#include <stdio.h>

#include "draw/sentences.h"

static void trammel_sheet_scrollable_init (GtkScrollableInterface *iface);

G_DEFINE_FINAL_TYPE_WITH_CODE (TrammelSheet, trammel_sheet, GTK_TYPE_WIDGET,
                               G_IMPLEMENT_INTERFACE (GTK_TYPE_SCROLLABLE, trammel_sheet_scrollable_init))

enum
{
  PROP_0,
  PROP_HADJUSTMENT,
  PROP_VADJUSTMENT,
  PROP_HSCROLL_POLICY,
  PROP_VSCROLL_POLICY,
};

enum
{
  TOLD,
  LIST_PASTED,
  COLUMN_PASTED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

const TrammelReadings *
trammel_sheet_readings (TrammelSheet *self)
{
  return trammel_machine_readings (trammel_session_machine (self->session));
}

const TrammelUnit *
trammel_sheet_unit (TrammelSheet *self)
{
  return trammel_machine_display_unit (trammel_session_machine (self->session));
}

int
trammel_sheet_n_rows (TrammelSheet *self)
{
  return (int)trammel_readings_length (trammel_sheet_readings (self)) + 1;
}

const TrammelReading *
trammel_sheet_row (TrammelSheet *self, int row)
{
  const TrammelReadings *readings = trammel_sheet_readings (self);
  return row >= 0 && (gsize)row < trammel_readings_length (readings) ? trammel_readings_get (readings, row) : NULL;
}

TrammelBlock
trammel_sheet_block (TrammelSheet *self)
{
  if (self->everything)
    return (TrammelBlock){ .bottom = (gsize)MAX (trammel_sheet_n_rows (self) - 2, 0), .right = TRAMMEL_N_COLUMNS - 1 };
  return (TrammelBlock){
    .top = MIN (self->cursor.row, self->anchor.row),
    .bottom = MAX (self->cursor.row, self->anchor.row),
    .left = MIN (self->cursor.column, self->anchor.column),
    .right = MAX (self->cursor.column, self->anchor.column),
  };
}

char *
trammel_sheet_trouble_of (TrammelSheet *self, int row, int column)
{
  const TrammelReading *reading = trammel_sheet_row (self, row);
  if (!reading)
    return NULL;
  char *trouble = column >= 0 && column < TRAMMEL_N_COLUMNS
                      ? trammel_cell_trouble (reading, column, trammel_sheet_unit (self))
                      : NULL;
  if (!trouble)
    trouble = trammel_row_trouble (reading);
  if (!trouble && row == self->refused_row)
    trouble = g_strdup (self->refused_reason);
  return trouble;
}

char *
trammel_sheet_suspicion_of (TrammelSheet *self, int row)
{
  const TrammelReading *reading = trammel_sheet_row (self, row);
  const TrammelAdjustment *adjustment = reading ? trammel_session_adjustment (self->session, NULL) : NULL;
  if (!adjustment)
    return NULL;
  gsize n;
  const TrammelFitted *fitted = trammel_adjustment_fitted (adjustment, &n);
  if ((gsize)row >= n)
    return NULL;
  return trammel_sentences_suspect (trammel_session_machine (self->session), reading, &fitted[row], (gsize)row + 1);
}

/* What is said */

void
trammel_sheet_tell (TrammelSheet *self, char *message, gboolean trouble)
{
  g_autofree char *owned = message;
  if (g_strcmp0 (self->message, owned) == 0 && self->message_is_trouble == trouble)
    return;
  g_free (self->message);
  self->message = g_steal_pointer (&owned);
  self->message_is_trouble = trouble;
  g_signal_emit (self, signals[TOLD], 0);
}

void
trammel_sheet_pass_list_on (TrammelSheet *self, const char *text)
{
  g_signal_emit (self, signals[LIST_PASTED], 0, text);
}

void
trammel_sheet_tell_of_column (TrammelSheet *self, const TrammelBlock *block)
{
  g_signal_emit (self, signals[COLUMN_PASTED], 0, (guint)block->top, (guint)(block->bottom - block->top + 1));
}

const char *
trammel_sheet_message (TrammelSheet *self, gboolean *trouble)
{
  g_return_val_if_fail (TRAMMEL_IS_SHEET (self), NULL);
  if (trouble)
    *trouble = self->message_is_trouble;
  return self->message;
}

static void
tell_about_cell (TrammelSheet *self)
{
  g_autofree char *trouble = trammel_sheet_trouble_of (self, self->cursor.row, self->cursor.column);
  gboolean bad = trouble != NULL;
  if (!trouble)
    trouble = trammel_sheet_suspicion_of (self, self->cursor.row);
  trammel_sheet_tell (self, g_steal_pointer (&trouble), bad);
}

static void
trammel_sheet_size_allocate (GtkWidget *widget, int width, int height, int baseline)
{
  trammel_sheet_allocate (TRAMMEL_SHEET (widget), width, height);
}

static void
trammel_sheet_measure (GtkWidget *widget, GtkOrientation orientation, int for_size, int *minimum, int *natural,
                       int *minimum_baseline, int *natural_baseline)
{
  trammel_sheet_request (TRAMMEL_SHEET (widget), orientation, minimum, natural);
}

static void
trammel_sheet_css_changed (GtkWidget *widget, GtkCssStyleChange *change)
{
  TrammelSheet *self = TRAMMEL_SHEET (widget);
  GTK_WIDGET_CLASS (trammel_sheet_parent_class)->css_changed (widget, change);
  g_hash_table_remove_all (self->layouts);
  trammel_sheet_measure_font (self);
  gtk_widget_queue_resize (widget);
}

static void
trammel_sheet_snapshot (GtkWidget *widget, GtkSnapshot *snapshot)
{
  trammel_sheet_paint (TRAMMEL_SHEET (widget), snapshot);
}

/* The current cell */

static void
push_selected_reading (TrammelSheet *self)
{
  int row = self->cursor.row;
  trammel_session_select_reading (self->session, trammel_sheet_row (self, row) ? row : -1);
}

static void
set_cursor (TrammelSheet *self, int row, int column, gboolean extend)
{
  self->cursor.row = CLAMP (row, 0, trammel_sheet_n_rows (self) - 1);
  self->cursor.column = CLAMP (column, 0, TRAMMEL_N_COLUMNS - 1);
  if (!extend)
    self->anchor = self->cursor;
  self->everything = FALSE;
  trammel_sheet_fill_entry (self);
  trammel_sheet_bring_into_sight (self);
  tell_about_cell (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
trammel_sheet_move_to (TrammelSheet *self, int row, int column, gboolean extend)
{
  set_cursor (self, row, column, extend);
  push_selected_reading (self);
}

void
trammel_sheet_select (TrammelSheet *self, const TrammelBlock *block)
{
  self->anchor = (TrammelSheetCell){ (int)block->bottom, block->right };
  trammel_sheet_move_to (self, (int)block->top, block->left, TRUE);
}

void
trammel_sheet_select_everything (TrammelSheet *self)
{
  self->everything = TRUE;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

void
trammel_sheet_select_cell (TrammelSheet *self)
{
  self->everything = FALSE;
  self->anchor = self->cursor;
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

gboolean
trammel_sheet_has_block (TrammelSheet *self)
{
  return self->everything || self->anchor.row != self->cursor.row || self->anchor.column != self->cursor.column;
}

void
trammel_sheet_go_to (TrammelSheet *self, int row, int column)
{
  g_return_if_fail (TRAMMEL_IS_SHEET (self));
  trammel_sheet_commit (self);
  trammel_sheet_move_to (self, row, column, FALSE);
  gtk_widget_grab_focus (GTK_WIDGET (self));
}

/* The session */

void
trammel_sheet_put (TrammelSheet *self, TrammelReadings *readings, const char *what)
{
  if (!readings)
    return;
  trammel_session_edit (self->session,
                        trammel_machine_with_readings (trammel_session_machine (self->session), readings), what, NULL);
  trammel_readings_unref (readings);
}

/* "readings[3]: no axis E" tells which row the adjustment refuses. */
static void
find_refused_row (TrammelSheet *self)
{
  g_autoptr (GError) error = NULL;
  trammel_session_adjustment (self->session, &error);
  self->refused_row = -1;
  g_clear_pointer (&self->refused_reason, g_free);

  int row;
  const char *reason = error ? strstr (error->message, ": ") : NULL;
  if (!reason || sscanf (error->message, "readings[%d]", &row) != 1)
    return;
  self->refused_row = row;
  self->refused_reason = g_strdup (reason + 2);
}

static void
adjusted (TrammelSheet *self)
{
  find_refused_row (self);
  tell_about_cell (self);
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
session_changed (TrammelSheet *self)
{
  int last = trammel_sheet_n_rows (self) - 1;
  self->cursor.row = MIN (self->cursor.row, last);
  self->anchor.row = MIN (self->anchor.row, last);
  if (self->mode == TRAMMEL_SHEET_MOVING)
    trammel_sheet_fill_entry (self);
  find_refused_row (self);
  tell_about_cell (self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

/* A row that waits to be measured is gone to for that. */
static int
column_to_go_to (TrammelSheet *self, int row)
{
  const TrammelReading *reading = trammel_sheet_row (self, row);
  return reading && isnan (reading->measured) ? TRAMMEL_COLUMN_MEASURED : self->cursor.column;
}

static void
selection_changed (TrammelSheet *self)
{
  int row = trammel_session_selected_reading (self->session);
  if (row < 0 || row == self->cursor.row)
    return;
  trammel_sheet_commit (self);
  set_cursor (self, row, column_to_go_to (self, row), FALSE);
}

static void
opened (TrammelSheet *self)
{
  memset (self->decimals, 0, sizeof self->decimals);
  trammel_sheet_move_to (self, 0, 0, FALSE);
}

/* Scrolling */

static void
scrolled (TrammelSheet *self)
{
  gtk_widget_queue_allocate (GTK_WIDGET (self));
  gtk_widget_queue_draw (GTK_WIDGET (self));
}

static void
set_adjustment (TrammelSheet *self, GtkAdjustment **place, GtkAdjustment *adjustment)
{
  if (*place == adjustment && adjustment)
    return;
  if (*place)
    g_signal_handlers_disconnect_by_func (*place, scrolled, self);
  g_clear_object (place);
  *place = g_object_ref_sink (adjustment ? adjustment : gtk_adjustment_new (0, 0, 0, 0, 0, 0));
  g_signal_connect_swapped (*place, "value-changed", G_CALLBACK (scrolled), self);
  gtk_widget_queue_allocate (GTK_WIDGET (self));
}

static void
trammel_sheet_set_property (GObject *object, guint id, const GValue *value, GParamSpec *pspec)
{
  TrammelSheet *self = TRAMMEL_SHEET (object);
  if (id == PROP_HADJUSTMENT)
    set_adjustment (self, &self->horizontal, g_value_get_object (value));
  else if (id == PROP_VADJUSTMENT)
    set_adjustment (self, &self->vertical, g_value_get_object (value));
  else if (id == PROP_HSCROLL_POLICY)
    self->horizontal_policy = g_value_get_enum (value);
  else if (id == PROP_VSCROLL_POLICY)
    self->vertical_policy = g_value_get_enum (value);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static void
trammel_sheet_get_property (GObject *object, guint id, GValue *value, GParamSpec *pspec)
{
  TrammelSheet *self = TRAMMEL_SHEET (object);
  if (id == PROP_HADJUSTMENT)
    g_value_set_object (value, self->horizontal);
  else if (id == PROP_VADJUSTMENT)
    g_value_set_object (value, self->vertical);
  else if (id == PROP_HSCROLL_POLICY)
    g_value_set_enum (value, self->horizontal_policy);
  else if (id == PROP_VSCROLL_POLICY)
    g_value_set_enum (value, self->vertical_policy);
  else
    G_OBJECT_WARN_INVALID_PROPERTY_ID (object, id, pspec);
}

static gboolean
trammel_sheet_get_border (GtkScrollable *scrollable, GtkBorder *border)
{
  TrammelSheet *self = TRAMMEL_SHEET (scrollable);
  *border = (GtkBorder){ .left = (gint16)self->number_width,
                         .right = (gint16)self->widths[TRAMMEL_SHEET_RESIDUAL],
                         .top = (gint16)self->header_height };
  return TRUE;
}

static void
trammel_sheet_scrollable_init (GtkScrollableInterface *iface)
{
  iface->get_border = trammel_sheet_get_border;
}

/* The object */

static gboolean
trammel_sheet_grab_focus (GtkWidget *widget)
{
  return gtk_text_grab_focus_without_selecting (TRAMMEL_SHEET (widget)->text);
}

static void
trammel_sheet_dispose (GObject *object)
{
  TrammelSheet *self = TRAMMEL_SHEET (object);
  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  g_clear_pointer (&self->choices, gtk_widget_unparent);
  g_clear_pointer (&self->menu, gtk_widget_unparent);
  if (self->text)
    gtk_widget_unparent (GTK_WIDGET (self->text));
  self->text = NULL;
  g_clear_object (&self->actions);
  g_clear_object (&self->horizontal);
  g_clear_object (&self->vertical);
  g_clear_pointer (&self->layouts, g_hash_table_unref);
  g_clear_pointer (&self->message, g_free);
  g_clear_pointer (&self->refused_reason, g_free);
  G_OBJECT_CLASS (trammel_sheet_parent_class)->dispose (object);
}

static void
trammel_sheet_class_init (TrammelSheetClass *klass)
{
  GObjectClass *object_class = G_OBJECT_CLASS (klass);
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  object_class->dispose = trammel_sheet_dispose;
  object_class->set_property = trammel_sheet_set_property;
  object_class->get_property = trammel_sheet_get_property;
  widget_class->size_allocate = trammel_sheet_size_allocate;
  widget_class->measure = trammel_sheet_measure;
  widget_class->snapshot = trammel_sheet_snapshot;
  widget_class->css_changed = trammel_sheet_css_changed;
  widget_class->grab_focus = trammel_sheet_grab_focus;
  gtk_widget_class_set_css_name (widget_class, "sheet");
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);

  g_object_class_override_property (object_class, PROP_HADJUSTMENT, "hadjustment");
  g_object_class_override_property (object_class, PROP_VADJUSTMENT, "vadjustment");
  g_object_class_override_property (object_class, PROP_HSCROLL_POLICY, "hscroll-policy");
  g_object_class_override_property (object_class, PROP_VSCROLL_POLICY, "vscroll-policy");
  signals[TOLD] = g_signal_new ("told", TRAMMEL_TYPE_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[LIST_PASTED] = g_signal_new ("list-pasted", TRAMMEL_TYPE_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                       G_TYPE_NONE, 1, G_TYPE_STRING);
  signals[COLUMN_PASTED] = g_signal_new ("column-pasted", TRAMMEL_TYPE_SHEET, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                         G_TYPE_NONE, 2, G_TYPE_UINT, G_TYPE_UINT);
}

static void
trammel_sheet_init (TrammelSheet *self)
{
  self->tab_column = -1;
  self->refused_row = -1;
  self->layouts = g_hash_table_new_full (g_str_hash, g_str_equal, g_free, g_object_unref);
  set_adjustment (self, &self->horizontal, NULL);
  set_adjustment (self, &self->vertical, NULL);
  gtk_widget_set_overflow (GTK_WIDGET (self), GTK_OVERFLOW_HIDDEN);
  gtk_widget_set_has_tooltip (GTK_WIDGET (self), TRUE);
  gtk_widget_add_css_class (GTK_WIDGET (self), "view");
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, _ ("Readings"), -1);
}

GActionGroup *
trammel_sheet_actions (TrammelSheet *self)
{
  g_return_val_if_fail (TRAMMEL_IS_SHEET (self), NULL);
  return G_ACTION_GROUP (self->actions);
}

GtkWidget *
trammel_sheet_new (TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session), NULL);

  TrammelSheet *self = g_object_new (TRAMMEL_TYPE_SHEET, NULL);
  self->session = g_object_ref (session);
  trammel_sheet_measure_font (self);
  trammel_sheet_make_entry (self);
  trammel_sheet_add_actions (self);
  trammel_sheet_watch_keys (self);
  trammel_sheet_watch_pointer (self);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (session_changed), self);
  g_signal_connect_swapped (session, "adjusted", G_CALLBACK (adjusted), self);
  g_signal_connect_swapped (session, "selection-changed", G_CALLBACK (selection_changed), self);
  g_signal_connect_swapped (session, "opened", G_CALLBACK (opened), self);
  find_refused_row (self);
  int row = MAX (trammel_session_selected_reading (session), 0);
  trammel_sheet_move_to (self, row, column_to_go_to (self, row), FALSE);
  return GTK_WIDGET (self);
}
