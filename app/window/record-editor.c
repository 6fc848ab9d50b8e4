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
  GPtrArray *folds;   /* of GtkExpander, borrowed: one for each group, in the order of their first fields */
  GPtrArray *editors; /* borrowed, in the order of the kind's fields; NULL: folded away and not made yet */
  guint32 hidden;     /* one bit for each field */
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

/* The heading under which a field is folded away, translated; NULL: it is in sight. */
static const char *
heading_of (const TrammelField *field)
{
  if (field->group)
    return _ (field->group);
  return goes_behind_more (field) ? _ ("More") : NULL;
}

static void
show_record (TrammelRecordEditor *self)
{
  for (guint i = 0; i < self->editors->len; i++)
    if (g_ptr_array_index (self->editors, i))
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
make_editor (TrammelRecordEditor *self, gsize i, GtkWidget *box, GtkSizeGroup *labels)
{
  GtkWidget *editor = trammel_field_editor_new (&self->kind->fields[i], labels);

  g_signal_connect (editor, "edited", G_CALLBACK (field_edited), self);
  gtk_widget_set_visible (editor, !(self->hidden & (1u << i)));
  gtk_box_append (GTK_BOX (box), editor);
  g_ptr_array_index (self->editors, i) = editor;
}

/* The fields behind @fold are made when it is opened for the first time: most are never looked at. */
static void
fill_fold (TrammelRecordEditor *self, GtkExpander *fold)
{
  g_autoptr (GtkSizeGroup) labels = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);
  const char *heading = gtk_expander_get_label (fold);

  if (gtk_expander_get_child (fold))
    return;
  GtkWidget *box = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_margin_top (box, 6);
  gtk_expander_set_child (fold, box);
  for (gsize i = 0; i < self->kind->n_fields; i++)
    if (g_strcmp0 (heading_of (&self->kind->fields[i]), heading) == 0)
      make_editor (self, i, box, labels);
  show_record (self);
}

static void
fold_toggled (GtkExpander *fold, GParamSpec *pspec, TrammelRecordEditor *self)
{
  if (gtk_expander_get_expanded (fold))
    fill_fold (self, fold);
}

static GtkExpander *
fold_with_heading (TrammelRecordEditor *self, const char *heading)
{
  for (guint i = 0; i < self->folds->len; i++)
    if (g_strcmp0 (gtk_expander_get_label (g_ptr_array_index (self->folds, i)), heading) == 0)
      return g_ptr_array_index (self->folds, i);

  GtkWidget *fold = gtk_expander_new (heading);
  g_signal_connect (fold, "notify::expanded", G_CALLBACK (fold_toggled), self);
  gtk_widget_set_parent (fold, GTK_WIDGET (self));
  g_ptr_array_add (self->folds, fold);
  return GTK_EXPANDER (fold);
}

static void
clear_controls (TrammelRecordEditor *self)
{
  GtkWidget *child;

  g_ptr_array_set_size (self->editors, 0);
  while ((child = gtk_widget_get_first_child (self->main)))
    gtk_box_remove (GTK_BOX (self->main), child);
  for (guint i = 0; i < self->folds->len; i++)
    gtk_widget_unparent (g_ptr_array_index (self->folds, i));
  g_ptr_array_set_size (self->folds, 0);
}

static void
build_for_kind (TrammelRecordEditor *self, const TrammelRecordKind *kind)
{
  g_autoptr (GtkSizeGroup) labels = gtk_size_group_new (GTK_SIZE_GROUP_HORIZONTAL);

  clear_controls (self);
  self->kind = kind;
  self->hidden = 0;
  g_ptr_array_set_size (self->editors, (int)kind->n_fields);
  for (gsize i = 0; i < kind->n_fields; i++)
    {
      const char *heading = heading_of (&kind->fields[i]);
      if (!heading)
        make_editor (self, i, self->main, labels);
      else
        fold_with_heading (self, heading);
    }
}

/* What has been filled in is in sight. */
static void
open_folds_in_use (TrammelRecordEditor *self)
{
  for (gsize i = 0; i < self->kind->n_fields; i++)
    {
      const TrammelField *field = &self->kind->fields[i];
      const char *heading = heading_of (field);
      if (heading && !field->group && trammel_record_has (self->record, field->key))
        gtk_expander_set_expanded (fold_with_heading (self, heading), TRUE);
    }
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
    {
      build_for_kind (self, trammel_record_kind (record));
      open_folds_in_use (self);
    }
  show_record (self);
}

void
trammel_record_editor_restore (TrammelRecordEditor *self)
{
  g_return_if_fail (TRAMMEL_IS_RECORD_EDITOR (self));
  for (guint i = 0; i < self->editors->len; i++)
    if (g_ptr_array_index (self->editors, i))
      trammel_field_editor_restore (g_ptr_array_index (self->editors, i));
}

/* The index of a field of the kind; −1 when it has no such field. */
static int
index_of_key (TrammelRecordEditor *self, const char *key, gsize length)
{
  for (guint i = 0; i < self->editors->len; i++)
    if (strlen (self->kind->fields[i].key) == length && strncmp (self->kind->fields[i].key, key, length) == 0)
      return (int)i;
  return -1;
}

/* The editor of field @i, out of its fold. */
static TrammelFieldEditor *
editor_in_sight (TrammelRecordEditor *self, int i)
{
  const char *heading = heading_of (&self->kind->fields[i]);
  if (heading)
    gtk_expander_set_expanded (fold_with_heading (self, heading), TRUE);
  return g_ptr_array_index (self->editors, i);
}

gboolean
trammel_record_editor_show_trouble (TrammelRecordEditor *self, const char *message)
{
  g_return_val_if_fail (TRAMMEL_IS_RECORD_EDITOR (self), FALSE);

  const char *colon = message ? strstr (message, ": ") : NULL;
  const int i_place = colon ? index_of_key (self, message, (gsize)(colon - message)) : -1;
  TrammelFieldEditor *place = i_place >= 0 ? editor_in_sight (self, i_place) : NULL;
  for (guint i = 0; i < self->editors->len; i++)
    {
      TrammelFieldEditor *editor = g_ptr_array_index (self->editors, i);
      if (editor)
        trammel_field_editor_set_trouble (editor, editor == place ? colon + 2 : NULL);
    }
  return place != NULL;
}

void
trammel_record_editor_set_field_visible (TrammelRecordEditor *self, const char *key, gboolean visible)
{
  g_return_if_fail (TRAMMEL_IS_RECORD_EDITOR (self));
  const int i = index_of_key (self, key, strlen (key));
  g_return_if_fail (i >= 0);

  GtkWidget *editor = g_ptr_array_index (self->editors, i);
  self->hidden = visible ? self->hidden & ~(1u << i) : self->hidden | (1u << i);
  if (editor)
    gtk_widget_set_visible (editor, visible);
}

static void
trammel_record_editor_dispose (GObject *object)
{
  TrammelRecordEditor *self = TRAMMEL_RECORD_EDITOR (object);
  if (self->main)
    clear_controls (self);
  g_clear_pointer (&self->main, gtk_widget_unparent);
  g_clear_pointer (&self->record, trammel_record_unref);
  g_clear_pointer (&self->editors, g_ptr_array_unref);
  g_clear_pointer (&self->folds, g_ptr_array_unref);
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
  self->folds = g_ptr_array_new ();
  self->main = gtk_box_new (GTK_ORIENTATION_VERTICAL, 6);
  gtk_widget_set_parent (self->main, GTK_WIDGET (self));
}

GtkWidget *
trammel_record_editor_new (void)
{
  return g_object_new (TRAMMEL_TYPE_RECORD_EDITOR, NULL);
}
