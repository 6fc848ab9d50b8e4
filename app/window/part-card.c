/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/part-card.h"

#include <glib/gi18n.h>

#include "drive/motor.h"
#include "drive/output.h"
#include "drive/stage.h"
#include "window/record-editor.h"

struct _TrammelPartCard
{
  GtkWidget parent_instance;

  TrammelPartRole role;
  TrammelRecord *record;
  GPtrArray *kinds; /* of const TrammelRecordKind, in the order of the drop-down */
  gboolean filling;

  GtkWidget *box;
  GtkWidget *title;
  GtkWidget *kind;
  GtkWidget *trouble;
  GtkWidget *editor_place;
  GtkWidget *editor;
  GtkWidget *earlier;
  GtkWidget *later;
  GtkWidget *remove;
};

G_DEFINE_FINAL_TYPE (TrammelPartCard, trammel_part_card, GTK_TYPE_WIDGET)

enum
{
  EDITED,
  MOVED,
  REMOVED,
  SELECTED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static gboolean
kind_is_offered (const TrammelPartCard *self, const TrammelRecordKind *kind, gboolean rotary_outputs)
{
  if (self->role != TRAMMEL_PART_OUTPUT)
    return TRUE;
  g_autoptr (TrammelRecord) sample = trammel_record_new (kind);
  return trammel_output_is_rotary (sample) == rotary_outputs;
}

/* Lists the kinds anew when the offer has changed; a kind in use is always in the list. */
static void
offer_kinds (TrammelPartCard *self, gboolean rotary_outputs)
{
  gsize n;
  const TrammelRecordKind *const *all = self->role == TRAMMEL_PART_MOTOR   ? trammel_motor_kinds (&n)
                                        : self->role == TRAMMEL_PART_STAGE ? trammel_stage_kinds (&n)
                                                                           : trammel_output_kinds (&n);
  g_autoptr (GPtrArray) offered = g_ptr_array_new ();
  for (gsize i = 0; i < n; i++)
    if (kind_is_offered (self, all[i], rotary_outputs) || all[i] == trammel_record_kind (self->record))
      g_ptr_array_add (offered, (gpointer)all[i]);

  gboolean same = offered->len == self->kinds->len;
  for (guint i = 0; same && i < offered->len; i++)
    same = offered->pdata[i] == self->kinds->pdata[i];
  if (same)
    return;

  g_autoptr (GtkStringList) labels = gtk_string_list_new (NULL);
  for (guint i = 0; i < offered->len; i++)
    gtk_string_list_append (labels, _ (((const TrammelRecordKind *)offered->pdata[i])->label));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->kind), G_LIST_MODEL (labels));
  g_ptr_array_unref (self->kinds);
  self->kinds = g_steal_pointer (&offered);
}

void
trammel_part_card_show (TrammelPartCard *self, const char *title, const TrammelRecord *record, const TrammelUnit *unit,
                        gboolean rotary_outputs)
{
  g_return_if_fail (TRAMMEL_IS_PART_CARD (self));
  g_return_if_fail (record);

  self->filling = TRUE;
  if (self->record != record)
    {
      g_clear_pointer (&self->record, trammel_record_unref);
      self->record = trammel_record_ref (record);
    }
  offer_kinds (self, rotary_outputs);

  guint position;
  if (g_ptr_array_find (self->kinds, trammel_record_kind (record), &position))
    gtk_drop_down_set_selected (GTK_DROP_DOWN (self->kind), position);

  if (g_strcmp0 (gtk_label_get_text (GTK_LABEL (self->title)), title) != 0)
    {
      g_autofree char *kind_name = g_strdup_printf (_ ("Kind of %s"), title);
      gtk_label_set_text (GTK_LABEL (self->title), title);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, title, -1);
      gtk_accessible_update_property (GTK_ACCESSIBLE (self->kind), GTK_ACCESSIBLE_PROPERTY_LABEL, kind_name, -1);
    }
  trammel_record_editor_set_record (TRAMMEL_RECORD_EDITOR (self->editor), record, unit);
  self->filling = FALSE;
}

void
trammel_part_card_restore (TrammelPartCard *self)
{
  g_return_if_fail (TRAMMEL_IS_PART_CARD (self));
  trammel_record_editor_restore (TRAMMEL_RECORD_EDITOR (self->editor));
}

void
trammel_part_card_set_position (TrammelPartCard *self, gboolean first, gboolean last)
{
  g_return_if_fail (TRAMMEL_IS_PART_CARD (self));
  gtk_widget_set_sensitive (self->earlier, !first);
  gtk_widget_set_sensitive (self->later, !last);
}

void
trammel_part_card_set_selected (TrammelPartCard *self, gboolean selected)
{
  g_return_if_fail (TRAMMEL_IS_PART_CARD (self));
  if (selected)
    gtk_widget_add_css_class (GTK_WIDGET (self), "selected");
  else
    gtk_widget_remove_css_class (GTK_WIDGET (self), "selected");
}

void
trammel_part_card_set_trouble (TrammelPartCard *self, const char *trouble)
{
  g_return_if_fail (TRAMMEL_IS_PART_CARD (self));
  gtk_label_set_text (GTK_LABEL (self->trouble), trouble ? trouble : "");
  gtk_widget_set_visible (self->trouble, trouble != NULL);
}

/* What both kinds have in common (teeth, module, note, …) is carried over to the new one. */
static TrammelRecord *
record_of_other_kind (const TrammelRecord *old, const TrammelRecordKind *kind)
{
  g_autoptr (TrammelRecord) record = trammel_record_new (kind);
  for (gsize i = 0; i < kind->n_fields; i++)
    {
      const TrammelField *field = &kind->fields[i];
      const TrammelField *before = trammel_record_kind_field (trammel_record_kind (old), field->key);
      if (!before || before->type != field->type || before->dimension != field->dimension)
        continue;
      g_autofree char *text = trammel_record_text (old, field->key);
      TrammelRecord *with = text ? trammel_record_with_text (record, field->key, text, NULL, NULL) : NULL;
      if (!with)
        continue;
      trammel_record_unref (record);
      record = with;
    }
  return g_steal_pointer (&record);
}

static void
kind_chosen (GtkDropDown *drop_down, GParamSpec *pspec, TrammelPartCard *self)
{
  guint position = gtk_drop_down_get_selected (drop_down);
  if (self->filling || position >= self->kinds->len || self->kinds->pdata[position] == trammel_record_kind (self->record))
    return;
  g_autoptr (TrammelRecord) record = record_of_other_kind (self->record, self->kinds->pdata[position]);
  g_signal_emit (self, signals[EDITED], 0, record);
}

static void
record_edited (TrammelRecordEditor *editor, gpointer record, TrammelPartCard *self)
{
  g_signal_emit (self, signals[EDITED], 0, record);
}

static void
earlier_clicked (GtkButton *button, TrammelPartCard *self)
{
  g_signal_emit (self, signals[MOVED], 0, -1);
}

static void
later_clicked (GtkButton *button, TrammelPartCard *self)
{
  g_signal_emit (self, signals[MOVED], 0, 1);
}

static void
remove_clicked (GtkButton *button, TrammelPartCard *self)
{
  g_signal_emit (self, signals[REMOVED], 0);
}

static void
focus_entered (GtkEventControllerFocus *controller, TrammelPartCard *self)
{
  g_signal_emit (self, signals[SELECTED], 0);
}

static void
pressed (GtkGestureClick *gesture, int n, double x, double y, TrammelPartCard *self)
{
  g_signal_emit (self, signals[SELECTED], 0);
}

static void
trammel_part_card_dispose (GObject *object)
{
  TrammelPartCard *self = TRAMMEL_PART_CARD (object);
  g_clear_pointer (&self->box, gtk_widget_unparent);
  g_clear_pointer (&self->record, trammel_record_unref);
  g_clear_pointer (&self->kinds, g_ptr_array_unref);
  G_OBJECT_CLASS (trammel_part_card_parent_class)->dispose (object);
}

static void
trammel_part_card_class_init (TrammelPartCardClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_part_card_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_accessible_role (widget_class, GTK_ACCESSIBLE_ROLE_GROUP);
  gtk_widget_class_set_css_name (widget_class, "partcard");
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/part-card.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelPartCard, box);
  gtk_widget_class_bind_template_child (widget_class, TrammelPartCard, title);
  gtk_widget_class_bind_template_child (widget_class, TrammelPartCard, kind);
  gtk_widget_class_bind_template_child (widget_class, TrammelPartCard, trouble);
  gtk_widget_class_bind_template_child (widget_class, TrammelPartCard, editor_place);
  gtk_widget_class_bind_template_child (widget_class, TrammelPartCard, earlier);
  gtk_widget_class_bind_template_child (widget_class, TrammelPartCard, later);
  gtk_widget_class_bind_template_child (widget_class, TrammelPartCard, remove);
  gtk_widget_class_bind_template_callback (widget_class, kind_chosen);
  gtk_widget_class_bind_template_callback (widget_class, earlier_clicked);
  gtk_widget_class_bind_template_callback (widget_class, later_clicked);
  gtk_widget_class_bind_template_callback (widget_class, remove_clicked);

  signals[EDITED] = g_signal_new ("edited", TRAMMEL_TYPE_PART_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL,
                                  G_TYPE_NONE, 1, G_TYPE_POINTER);
  signals[MOVED] = g_signal_new ("moved", TRAMMEL_TYPE_PART_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE,
                                 1, G_TYPE_INT);
  signals[REMOVED]
      = g_signal_new ("removed", TRAMMEL_TYPE_PART_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
  signals[SELECTED]
      = g_signal_new ("selected", TRAMMEL_TYPE_PART_CARD, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
trammel_part_card_init (TrammelPartCard *self)
{
  self->kinds = g_ptr_array_new ();
  gtk_widget_init_template (GTK_WIDGET (self));

  self->editor = trammel_record_editor_new ();
  gtk_box_append (GTK_BOX (self->editor_place), self->editor);
  g_signal_connect (self->editor, "edited", G_CALLBACK (record_edited), self);

  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "enter", G_CALLBACK (focus_entered), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);

  GtkGesture *click = gtk_gesture_click_new ();
  g_signal_connect (click, "pressed", G_CALLBACK (pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), GTK_EVENT_CONTROLLER (click));
}

GtkWidget *
trammel_part_card_new (TrammelPartRole role)
{
  TrammelPartCard *self = g_object_new (TRAMMEL_TYPE_PART_CARD, NULL);
  self->role = role;
  gtk_widget_set_visible (self->earlier, role == TRAMMEL_PART_STAGE);
  gtk_widget_set_visible (self->later, role == TRAMMEL_PART_STAGE);
  gtk_widget_set_visible (self->remove, role == TRAMMEL_PART_STAGE);
  return GTK_WIDGET (self);
}
