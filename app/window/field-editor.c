/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/field-editor.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "window/completions.h"
#include "window/rewrite.h"

struct _TrammelFieldEditor
{
  GtkWidget parent_instance;

  const TrammelField *field;
  TrammelRecord *record;
  const TrammelUnit *assumed;
  char *shown;      /* the field's text in the record as it stands in the control; NULL: not set */
  gboolean filling; /* the control is being written to, nobody is typing */
  gboolean faulty;  /* what stands in the control cannot be used */
  char *reason;     /* from outside */

  GtkWidget *row;
  GtkWidget *control;
  GtkTextBuffer *buffer;           /* of a text of many lines */
  TrammelCompletions *completions; /* where the field is of a table */
  GtkWidget *trouble;
};

G_DEFINE_FINAL_TYPE (TrammelFieldEditor, trammel_field_editor, GTK_TYPE_WIDGET)

enum
{
  EDITED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* A text that starts out as something is a word; one that starts empty may become lines. */
static gboolean
has_lines (const TrammelField *field)
{
  return field->type == TRAMMEL_FIELD_TEXT && field->initial == NULL;
}

static gboolean
has_entry (const TrammelField *field)
{
  return field->type != TRAMMEL_FIELD_CHOICE && field->type != TRAMMEL_FIELD_FLAG && !has_lines (field);
}

/* Only a length can be in the unit of the display. */
static const TrammelUnit *
unit_assumed (TrammelFieldEditor *self)
{
  switch (self->field->dimension)
    {
    case TRAMMEL_DIMENSION_LENGTH:
    case TRAMMEL_DIMENSION_PITCH:
    case TRAMMEL_DIMENSION_MODULE:
    case TRAMMEL_DIMENSION_LASH:
      return self->assumed;
    default:
      return NULL;
    }
}

/* Numbers in a record are written with a point; people see the sign of their locale. */
static char *
text_for_people (const TrammelField *field, const char *text)
{
  gboolean number = field->type == TRAMMEL_FIELD_QUANTITY || field->type == TRAMMEL_FIELD_EXACT
                    || field->type == TRAMMEL_FIELD_QUANTITIES || field->type == TRAMMEL_FIELD_PAIRS;
  return number ? trammel_display_text (text) : g_strdup (text);
}

static void
show_trouble (TrammelFieldEditor *self, const char *reason)
{
  gboolean bad = reason != NULL;
  gtk_label_set_text (GTK_LABEL (self->trouble), bad ? reason : "");
  gtk_widget_set_visible (self->trouble, bad);
  trammel_rewrite_refused (self->control, bad);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->control), GTK_ACCESSIBLE_PROPERTY_DESCRIPTION,
                                  bad ? reason : _ (self->field->meaning), -1);
}

static void
show_own_trouble (TrammelFieldEditor *self, const char *reason)
{
  self->faulty = reason != NULL;
  show_trouble (self, reason ? reason : self->reason);
}

void
trammel_field_editor_set_trouble (TrammelFieldEditor *self, const char *reason)
{
  g_return_if_fail (TRAMMEL_IS_FIELD_EDITOR (self));
  if (g_strcmp0 (self->reason, reason) == 0)
    return;
  g_free (self->reason);
  self->reason = g_strdup (reason);
  if (!self->faulty)
    show_trouble (self, reason);
}

static guint
choice_index (const TrammelField *field, const char *key)
{
  for (guint i = 0; key && field->choices[i]; i++)
    if (g_str_equal (field->choices[i], key))
      return i;
  return GTK_INVALID_LIST_POSITION;
}

/* Writes the value in the record to the control; the cursor stays where it is as far as it can. */
static void
fill_control (TrammelFieldEditor *self)
{
  g_autofree char *text = text_for_people (self->field, self->shown ? self->shown : "");

  self->filling = TRUE;
  if (self->field->type == TRAMMEL_FIELD_CHOICE)
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->control), choice_index (self->field, self->shown));
  else if (self->field->type == TRAMMEL_FIELD_FLAG)
    gtk_check_button_set_active (GTK_CHECK_BUTTON (self->control),
                                 trammel_record_flag (self->record, self->field->key));
  else if (self->buffer)
    gtk_text_buffer_set_text (self->buffer, text, -1);
  else if (g_strcmp0 (gtk_editable_get_text (GTK_EDITABLE (self->control)), text) != 0)
    {
      int position = gtk_editable_get_position (GTK_EDITABLE (self->control));
      gtk_editable_set_text (GTK_EDITABLE (self->control), text);
      gtk_editable_set_position (GTK_EDITABLE (self->control), position);
    }
  self->filling = FALSE;
}

void
trammel_field_editor_show (TrammelFieldEditor *self, const TrammelRecord *record, const TrammelUnit *assumed)
{
  g_return_if_fail (TRAMMEL_IS_FIELD_EDITOR (self));
  g_return_if_fail (record != NULL);

  gboolean first = self->record == NULL;
  TrammelRecord *old = self->record;
  self->record = trammel_record_ref (record);
  g_clear_pointer (&old, trammel_record_unref);
  self->assumed = assumed;

  g_autofree char *text = trammel_record_text (record, self->field->key);
  if (!first && g_strcmp0 (text, self->shown) == 0)
    return;
  g_free (self->shown);
  self->shown = g_steal_pointer (&text);
  fill_control (self);
  show_own_trouble (self, NULL);
}

/* What stands in the control as text that a record reads. (transfer full) */
static char *
control_text (TrammelFieldEditor *self)
{
  if (self->field->type == TRAMMEL_FIELD_CHOICE)
    {
      guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->control));
      return g_strdup (i == GTK_INVALID_LIST_POSITION ? "" : self->field->choices[i]);
    }
  if (self->field->type == TRAMMEL_FIELD_FLAG)
    return g_strdup (gtk_check_button_get_active (GTK_CHECK_BUTTON (self->control)) ? "yes" : "no");
  if (self->buffer)
    {
      GtkTextIter start, end;
      gtk_text_buffer_get_bounds (self->buffer, &start, &end);
      return gtk_text_buffer_get_text (self->buffer, &start, &end, FALSE);
    }
  return g_strdup (gtk_editable_get_text (GTK_EDITABLE (self->control)));
}

/* Hands on the record with what was typed, when that can be read and says something new. */
static void
take_over (TrammelFieldEditor *self)
{
  g_autofree char *typed = control_text (self);
  gboolean blank = typed[strspn (typed, " \t\r\n")] == '\0';
  if (blank && self->field->required)
    {
      show_own_trouble (self, _ ("A value is wanted here. Escape puts the old one back."));
      return;
    }

  g_autoptr (GError) error = NULL;
  g_autoptr (TrammelRecord) record
      = trammel_record_with_text (self->record, self->field->key, typed, unit_assumed (self), &error);
  if (!record)
    {
      show_own_trouble (self, error->message);
      return;
    }
  show_own_trouble (self, NULL);

  g_autofree char *text = trammel_record_text (record, self->field->key);
  if (g_strcmp0 (text, self->shown) == 0)
    return;
  g_free (self->shown);
  self->shown = g_steal_pointer (&text);
  g_signal_emit (self, signals[EDITED], 0, record);
}

static void
finish (TrammelFieldEditor *self)
{
  if (self->filling || !self->record || !gtk_widget_get_mapped (GTK_WIDGET (self)))
    return;
  take_over (self);
  if (!self->faulty)
    fill_control (self);
}

void
trammel_field_editor_restore (TrammelFieldEditor *self)
{
  g_return_if_fail (TRAMMEL_IS_FIELD_EDITOR (self));
  if (!self->record)
    return;
  fill_control (self);
  show_own_trouble (self, NULL);
}

static void
typed (TrammelFieldEditor *self)
{
  if (self->filling || !self->record)
    return;
  const char *text = gtk_editable_get_text (GTK_EDITABLE (self->control));
  if (self->field->type == TRAMMEL_FIELD_INTEGER && *text != '\0')
    take_over (self);
  else if (self->faulty)
    show_own_trouble (self, NULL);
  if (self->completions)
    trammel_completions_typed (self->completions);
}

static void
row_chosen (TrammelFieldEditor *self, const char *value)
{
  g_autofree char *text = text_for_people (self->field, value);
  self->filling = TRUE;
  gtk_editable_set_text (GTK_EDITABLE (self->control), text);
  gtk_editable_set_position (GTK_EDITABLE (self->control), -1);
  self->filling = FALSE;
  finish (self);
}

static void
chosen (TrammelFieldEditor *self)
{
  if (!self->filling && self->record)
    take_over (self);
}

static gboolean
step_by (TrammelFieldEditor *self, gint64 by)
{
  gint64 value = trammel_record_integer (self->record, self->field->key);
  gboolean bounded = self->field->low < self->field->high;
  if (bounded)
    value = (gint64)CLAMP ((double)(value + by), self->field->low, self->field->high);
  else
    value += by;

  g_autofree char *text = g_strdup_printf ("%" G_GINT64_FORMAT, value);
  gtk_editable_set_text (GTK_EDITABLE (self->control), text);
  gtk_editable_set_position (GTK_EDITABLE (self->control), -1);
  if (self->completions)
    trammel_completions_close (self->completions);
  return TRUE;
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, TrammelFieldEditor *self)
{
  gboolean whole = self->field->type == TRAMMEL_FIELD_INTEGER;
  gboolean control = (state & GDK_CONTROL_MASK) != 0;

  if (self->completions && trammel_completions_key (self->completions, key, state))
    return TRUE;
  if (key == GDK_KEY_Escape)
    {
      g_autofree char *text = control_text (self);
      g_autofree char *before = text_for_people (self->field, self->shown ? self->shown : "");
      if (g_str_equal (text, before) && !self->faulty)
        return FALSE;
      trammel_field_editor_restore (self);
      return TRUE;
    }
  if (self->buffer && control && (key == GDK_KEY_Return || key == GDK_KEY_KP_Enter))
    {
      finish (self);
      return TRUE;
    }
  if (!whole || control || !self->record)
    return FALSE;
  if (key == GDK_KEY_Up || key == GDK_KEY_KP_Up)
    return step_by (self, 1);
  if (key == GDK_KEY_Down || key == GDK_KEY_KP_Down)
    return step_by (self, -1);
  if (key == GDK_KEY_Page_Up)
    return step_by (self, 10);
  if (key == GDK_KEY_Page_Down)
    return step_by (self, -10);
  return FALSE;
}

static void
left (TrammelFieldEditor *self)
{
  if (self->completions)
    trammel_completions_close (self->completions);
  finish (self);
}

static void
watch_keys_and_focus (TrammelFieldEditor *self)
{
  GtkEventController *keys = gtk_event_controller_key_new ();
  gtk_event_controller_set_propagation_phase (keys, GTK_PHASE_CAPTURE);
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (self->control, keys);

  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect_swapped (focus, "leave", G_CALLBACK (left), self);
  gtk_widget_add_controller (self->control, focus);
}

static GtkWidget *
make_entry (TrammelFieldEditor *self)
{
  GtkWidget *entry = gtk_entry_new ();
  gtk_editable_set_width_chars (GTK_EDITABLE (entry), self->field->type == TRAMMEL_FIELD_INTEGER ? 6 : 9);
  gtk_editable_set_max_width_chars (GTK_EDITABLE (entry), 10);
  if (self->field->type == TRAMMEL_FIELD_INTEGERS)
    gtk_entry_set_placeholder_text (GTK_ENTRY (entry), _ ("none"));
  if (self->field->type == TRAMMEL_FIELD_INTEGER)
    gtk_editable_set_enable_undo (GTK_EDITABLE (entry), FALSE);
  g_signal_connect_swapped (entry, "changed", G_CALLBACK (typed), self);
  g_signal_connect_swapped (entry, "activate", G_CALLBACK (finish), self);

  const TrammelTable *table = self->field->table ? trammel_table_find (self->field->table) : NULL;
  if (!table)
    return entry;
  self->completions = trammel_completions_new (GTK_WIDGET (self), entry, table);
  g_signal_connect_swapped (self->completions, "chosen", G_CALLBACK (row_chosen), self);
  return entry;
}

static GtkWidget *
make_drop_down (TrammelFieldEditor *self)
{
  g_autoptr (GtkStringList) labels = gtk_string_list_new (NULL);
  for (gsize i = 0; self->field->choices[i]; i++)
    gtk_string_list_append (labels,
                            self->field->choice_labels ? _ (self->field->choice_labels[i]) : self->field->choices[i]);
  GtkWidget *drop_down = gtk_drop_down_new (G_LIST_MODEL (g_steal_pointer (&labels)), NULL);
  g_signal_connect_swapped (drop_down, "notify::selected", G_CALLBACK (chosen), self);
  return drop_down;
}

static GtkWidget *
make_text_view (TrammelFieldEditor *self)
{
  GtkWidget *view = gtk_text_view_new ();
  gtk_text_view_set_accepts_tab (GTK_TEXT_VIEW (view), FALSE);
  gtk_text_view_set_wrap_mode (GTK_TEXT_VIEW (view), GTK_WRAP_WORD_CHAR);
  gtk_text_view_set_top_margin (GTK_TEXT_VIEW (view), 5);
  gtk_text_view_set_bottom_margin (GTK_TEXT_VIEW (view), 5);
  gtk_text_view_set_left_margin (GTK_TEXT_VIEW (view), 8);
  gtk_text_view_set_right_margin (GTK_TEXT_VIEW (view), 8);
  gtk_widget_add_css_class (view, "lines");
  self->buffer = gtk_text_view_get_buffer (GTK_TEXT_VIEW (view));
  return view;
}

static void
add_label (TrammelFieldEditor *self, GtkSizeGroup *labels)
{
  GtkWidget *label = gtk_label_new (_ (self->field->label));
  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_NONE);
  gtk_widget_add_css_class (label, "dim-label");
  gtk_box_append (GTK_BOX (self->row), label);
  if (labels && !self->buffer)
    gtk_size_group_add_widget (labels, label);
}

static void
build (TrammelFieldEditor *self, GtkSizeGroup *labels)
{
  gboolean flag = self->field->type == TRAMMEL_FIELD_FLAG;

  if (flag)
    {
      self->control = gtk_check_button_new_with_label (_ (self->field->label));
      g_signal_connect_swapped (self->control, "toggled", G_CALLBACK (chosen), self);
    }
  else if (self->field->type == TRAMMEL_FIELD_CHOICE)
    self->control = make_drop_down (self);
  else
    self->control = has_lines (self->field) ? make_text_view (self) : make_entry (self);

  if (!flag)
    add_label (self, labels);
  if (self->buffer)
    {
      gtk_orientable_set_orientation (GTK_ORIENTABLE (self->row), GTK_ORIENTATION_VERTICAL);
      gtk_box_set_spacing (GTK_BOX (self->row), 2);
    }
  if (self->buffer || has_entry (self->field))
    watch_keys_and_focus (self);

  gtk_widget_set_hexpand (self->control, TRUE);
  gtk_box_append (GTK_BOX (self->row), self->control);
  trammel_rewrite_tooltip (GTK_WIDGET (self), _ (self->field->meaning));
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->control), GTK_ACCESSIBLE_PROPERTY_LABEL, _ (self->field->label),
                                  GTK_ACCESSIBLE_PROPERTY_DESCRIPTION, _ (self->field->meaning), -1);
}

static void
trammel_field_editor_dispose (GObject *object)
{
  TrammelFieldEditor *self = TRAMMEL_FIELD_EDITOR (object);
  self->filling = TRUE;
  g_clear_object (&self->completions);
  g_clear_pointer (&self->row, gtk_widget_unparent);
  g_clear_pointer (&self->trouble, gtk_widget_unparent);
  g_clear_pointer (&self->record, trammel_record_unref);
  g_clear_pointer (&self->shown, g_free);
  g_clear_pointer (&self->reason, g_free);
  G_OBJECT_CLASS (trammel_field_editor_parent_class)->dispose (object);
}

static void
trammel_field_editor_class_init (TrammelFieldEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_field_editor_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "fieldeditor");
  signals[EDITED] = g_signal_new ("edited", TRAMMEL_TYPE_FIELD_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_POINTER);
}

static void
trammel_field_editor_init (TrammelFieldEditor *self)
{
  GtkLayoutManager *layout = gtk_widget_get_layout_manager (GTK_WIDGET (self));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);

  self->row = gtk_box_new (GTK_ORIENTATION_HORIZONTAL, 8);
  gtk_widget_set_parent (self->row, GTK_WIDGET (self));
  self->trouble = gtk_label_new (NULL);
  gtk_label_set_xalign (GTK_LABEL (self->trouble), 0);
  gtk_label_set_wrap (GTK_LABEL (self->trouble), TRUE);
  gtk_label_set_max_width_chars (GTK_LABEL (self->trouble), 24);
  gtk_widget_add_css_class (self->trouble, "trouble");
  gtk_widget_set_visible (self->trouble, FALSE);
  gtk_widget_set_parent (self->trouble, GTK_WIDGET (self));
}

GtkWidget *
trammel_field_editor_new (const TrammelField *field, GtkSizeGroup *labels)
{
  g_return_val_if_fail (field != NULL, NULL);
  TrammelFieldEditor *self = g_object_new (TRAMMEL_TYPE_FIELD_EDITOR, NULL);
  self->field = field;
  build (self, labels);
  return GTK_WIDGET (self);
}
