/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/record-editor.h"

#include <glib/gi18n.h>
#include <string.h>

#include "window/field-editor.h"

struct _TrammelRecordEditor
{
  GtkWidget parent_instance;

  const TrammelRecordKind *kind;
  TrammelRecord *record;
  const TrammelUnit *assumed;

  GtkWidget *main;
  GtkWidget *more; /* expander */
  GtkWidget *more_box;
  GPtrArray *editors; /* borrowed, in the order of the kind's fields */
};

G_DEFINE_FINAL_TYPE (TrammelRecordEditor, trammel_record_editor, GTK_TYPE_WIDGET)

enum
{
  EDITED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

/* A module or a pitch may stand for the other, so both are always in sight. */
static gboolean
goes_behind_more (const TrammelField *field)
{
  if (field->required || field->initial || field->type == TRAMMEL_FIELD_FLAG || field->type == TRAMMEL_FIELD_INTEGERS)
    return FALSE;
  return !g_str_equal (field->key, "module") && !g_str_equal (field->key, "pitch");
}

static void
show_record (TrammelRecordEditor *self)
{
  for (guint i = 0; i < self->editors->len; i++)
    trammel_field_editor_show (g_ptr_array_index (self->editors, i), self->record, self->assumed);
}

static void
field_edited (TrammelFieldEditor *editor, gpointer record, TrammelRecordEditor *self)
{
  TrammelRecord *old = self->record;
  self->record = trammel_record_ref (record);
  trammel_record_unref (old);
  show_record (self);

  g_autoptr (TrammelRecord) kept = trammel_record_ref (self->record);
  g_signal_emit (self, signals[EDITED], 0, kept);
}

static void
empty_box (GtkWidget *box)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (box)))
    gtk_box_remove (GTK_BOX (box), child);
}

static void
build_for_kind (TrammelRecordEditor *self, const TrammelRecordKind *kind)
{
  g_autoptr (GtkSizeGroup) labels = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  gboolean any_more = FALSE, any_more_set = FALSE;

  g_ptr_array_set_size (self->editors, 0);
  empty_box (self->main);
  empty_box (self->more_box);
  self->kind = kind;

  for (gsize i = 0; i < kind->n_fields; i++)
    {
      const TrammelField *field = &kind->fields[i];
      gboolean behind = goes_behind_more (field);
      GtkWidget *editor = trammel_field_editor_new (field, labels);
      g_signal_connect (editor, "edited", G_CALLBACK (field_edited), self);
      gtk_box_append (GTK_BOX (behind ? self->more_box : self->main), editor);
      g_ptr_array_add (self->editors, editor);
      any_more |= behind;
      any_more_set |= behind && trammel_record_has (self->record, field->key);
    }
  gtk_widget_set_visible (self->more, any_more);
  gtk_expander_set_expanded (GTK_EXPANDER (self->more), any_more_set);
}

void
trammel_record_editor_set_record (TrammelRecordEditor *self, const TrammelRecord *record, const TrammelUnit *assumed)
{
  g_return_if_fail (TRAMMEL_IS_RECORD_EDITOR (self));
  g_return_if_fail (record != NULL);

  TrammelRecord *old = self->record;
  self->record = trammel_record_ref (record);
  g_clear_pointer (&old, trammel_record_unref);
  self->assumed = assumed;
  if (trammel_record_kind (record) != self->kind)
    build_for_kind (self, trammel_record_kind (record));
  show_record (self);
}

void
trammel_record_editor_restore (TrammelRecordEditor *self)
{
  g_return_if_fail (TRAMMEL_IS_RECORD_EDITOR (self));
  for (guint i = 0; i < self->editors->len; i++)
    trammel_field_editor_restore (g_ptr_array_index (self->editors, i));
}

static TrammelFieldEditor *
editor_of_key (TrammelRecordEditor *self, const char *key, gsize length)
{
  for (guint i = 0; i < self->editors->len; i++)
    {
      TrammelFieldEditor *editor = g_ptr_array_index (self->editors, i);
      const char *own = trammel_field_editor_field (editor)->key;
      if (strlen (own) == length && strncmp (own, key, length) == 0)
        return editor;
    }
  return NULL;
}

gboolean
trammel_record_editor_show_trouble (TrammelRecordEditor *self, const char *message)
{
  g_return_val_if_fail (TRAMMEL_IS_RECORD_EDITOR (self), FALSE);

  const char *colon = message ? strstr (message, ": ") : NULL;
  TrammelFieldEditor *place = colon ? editor_of_key (self, message, (gsize)(colon - message)) : NULL;
  for (guint i = 0; i < self->editors->len; i++)
    {
      TrammelFieldEditor *editor = g_ptr_array_index (self->editors, i);
      trammel_field_editor_set_trouble (editor, editor == place ? colon + 2 : NULL);
    }
  if (place && goes_behind_more (trammel_field_editor_field (place)))
    gtk_expander_set_expanded (GTK_EXPANDER (self->more), TRUE);
  return place != NULL;
}

void
trammel_record_editor_set_field_visible (TrammelRecordEditor *self, const char *key, gboolean visible)
{
  g_return_if_fail (TRAMMEL_IS_RECORD_EDITOR (self));
  TrammelFieldEditor *editor = editor_of_key (self, key, strlen (key));
  g_return_if_fail (editor != NULL);
  gtk_widget_set_visible (GTK_WIDGET (editor), visible);
}

static void
trammel_record_editor_dispose (GObject *object)
{
  TrammelRecordEditor *self = TRAMMEL_RECORD_EDITOR (object);
  g_clear_pointer (&self->main, gtk_widget_unparent);
  g_clear_pointer (&self->more, gtk_widget_unparent);
  g_clear_pointer (&self->record, trammel_record_unref);
  g_clear_pointer (&self->editors, g_ptr_array_unref);
  G_OBJECT_CLASS (trammel_record_editor_parent_class)->dispose (object);
}

static void
trammel_record_editor_class_init (TrammelRecordEditorClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_record_editor_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
  gtk_widget_class_set_css_name (GTK_WIDGET_CLASS (klass), "recordeditor");
  signals[EDITED] = g_signal_new ("edited", TRAMMEL_TYPE_RECORD_EDITOR, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_POINTER);
}

static void
trammel_record_editor_init (TrammelRecordEditor *self)
{
  GtkBoxLayout *layout = GTK_BOX_LAYOUT (gtk_widget_get_layout_manager (GTK_WIDGET (self)));
  gtk_orientable_set_orientation (GTK_ORIENTABLE (layout), GTK_ORIENTATION_VERTICAL);
  gtk_box_layout_set_spacing (layout, 6);

  self->editors = g_ptr_array_new ();
  self->main = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->main, GTK_WIDGET (self));

  self->more_box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_margin_top (self->more_box, 6);
  self->more = gtk_expander_new (_ ("More"));
  gtk_expander_set_child (GTK_EXPANDER (self->more), self->more_box);
  gtk_widget_set_parent (self->more, GTK_WIDGET (self));
}

GtkWidget *
trammel_record_editor_new (void)
{
  return g_object_new (TRAMMEL_TYPE_RECORD_EDITOR, NULL);
}
