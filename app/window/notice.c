/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/notice.h"

#include <glib/gi18n.h>

#define SECONDS_SHOWN 8

struct _TrammelNotice
{
  GtkWidget parent_instance;

  GtkRevealer *revealer;
  GtkWidget *box;
  GtkImage *icon;
  GtkLabel *text;
  GtkWidget *answers;
  GtkWidget *close;

  char *key;
  TrammelNoticeKind kind;
  guint timeout;
  gboolean pointed_at;
};

G_DEFINE_FINAL_TYPE (TrammelNotice, trammel_notice, GTK_TYPE_WIDGET)

static guint dismissed_signal;

const char *
trammel_notice_key (TrammelNotice *self)
{
  g_return_val_if_fail (TRAMMEL_IS_NOTICE (self), NULL);
  return self->key;
}

void
trammel_notice_dismiss (TrammelNotice *self)
{
  g_return_if_fail (TRAMMEL_IS_NOTICE (self));
  g_clear_handle_id (&self->timeout, g_source_remove);
  gtk_revealer_set_reveal_child (self->revealer, FALSE);
}

static void
revealed_changed (TrammelNotice *self)
{
  if (!gtk_revealer_get_reveal_child (self->revealer) && !gtk_revealer_get_child_revealed (self->revealer))
    g_signal_emit (self, dismissed_signal, 0);
}

/* Not while someone is reading or about to press a button. */
static gboolean
time_is_up (gpointer data)
{
  TrammelNotice *self = TRAMMEL_NOTICE (data);
  if (self->pointed_at || gtk_widget_get_focus_child (GTK_WIDGET (self)))
    return G_SOURCE_CONTINUE;
  self->timeout = 0;
  trammel_notice_dismiss (self);
  return G_SOURCE_REMOVE;
}

static void
pointer_moved (GtkEventControllerMotion *motion, GParamSpec *pspec, TrammelNotice *self)
{
  self->pointed_at = gtk_event_controller_motion_contains_pointer (motion);
}

/* Escape is the last answer, which is the one that changes nothing; else it puts the message away. */
static gboolean
key_pressed (GtkEventControllerKey *keys, guint key, guint code, GdkModifierType state, TrammelNotice *self)
{
  GtkWidget *last = gtk_widget_get_last_child (self->answers);
  if (key != GDK_KEY_Escape)
    return GDK_EVENT_PROPAGATE;
  if (self->kind == TRAMMEL_NOTICE_QUESTION && last)
    gtk_widget_activate (last);
  else
    trammel_notice_dismiss (self);
  return GDK_EVENT_STOP;
}

static void
add_answer (TrammelNotice *self, const TrammelAnswer *answer, gboolean first)
{
  GtkWidget *button = gtk_button_new_with_label (answer->label);
  gtk_actionable_set_detailed_action_name (GTK_ACTIONABLE (button), answer->action);
  g_signal_connect_object (button, "clicked", G_CALLBACK (trammel_notice_dismiss), self,
                           G_CONNECT_SWAPPED | G_CONNECT_AFTER);
  if (first && self->kind == TRAMMEL_NOTICE_QUESTION)
    gtk_widget_add_css_class (button, "suggested-action");
  gtk_box_append (GTK_BOX (self->answers), button);
}

static void
set_kind (TrammelNotice *self, TrammelNoticeKind kind)
{
  static const struct
  {
    const char *icon, *class;
  } looks[] = {
    [TRAMMEL_NOTICE_INFO] = { "dialog-information-symbolic", "info" },
    [TRAMMEL_NOTICE_TROUBLE] = { "dialog-warning-symbolic", "trouble-notice" },
    [TRAMMEL_NOTICE_QUESTION] = { "dialog-warning-symbolic", "question" },
  };
  self->kind = kind;
  gtk_image_set_from_icon_name (self->icon, looks[kind].icon);
  gtk_widget_add_css_class (self->box, looks[kind].class);
  gtk_widget_set_visible (self->close, kind != TRAMMEL_NOTICE_QUESTION);
  if (kind == TRAMMEL_NOTICE_INFO)
    self->timeout = g_timeout_add_seconds (SECONDS_SHOWN, time_is_up, self);
}

GtkWidget *
trammel_notice_new (const char *key, TrammelNoticeKind kind, const char *text, const TrammelAnswer *answers,
                    gsize n_answers)
{
  TrammelNotice *self = g_object_new (TRAMMEL_TYPE_NOTICE, NULL);
  self->key = g_strdup (key);
  set_kind (self, kind);
  gtk_label_set_text (self->text, text);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self), GTK_ACCESSIBLE_PROPERTY_LABEL, text, -1);
  for (gsize i = 0; i < n_answers; i++)
    add_answer (self, &answers[i], i == 0);
  return GTK_WIDGET (self);
}

/* Slides in once it can be seen. */
static void
trammel_notice_map (GtkWidget *widget)
{
  TrammelNotice *self = TRAMMEL_NOTICE (widget);
  GTK_WIDGET_CLASS (trammel_notice_parent_class)->map (widget);
  gtk_revealer_set_reveal_child (self->revealer, TRUE);
  if (self->kind == TRAMMEL_NOTICE_QUESTION)
    gtk_widget_grab_focus (gtk_widget_get_first_child (self->answers));
}

static void
trammel_notice_dispose (GObject *object)
{
  TrammelNotice *self = TRAMMEL_NOTICE (object);
  g_clear_handle_id (&self->timeout, g_source_remove);
  if (self->revealer)
    gtk_widget_unparent (GTK_WIDGET (self->revealer));
  self->revealer = NULL;
  G_OBJECT_CLASS (trammel_notice_parent_class)->dispose (object);
}

static void
trammel_notice_finalize (GObject *object)
{
  g_free (TRAMMEL_NOTICE (object)->key);
  G_OBJECT_CLASS (trammel_notice_parent_class)->finalize (object);
}

static void
trammel_notice_class_init (TrammelNoticeClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  G_OBJECT_CLASS (klass)->dispose = trammel_notice_dispose;
  G_OBJECT_CLASS (klass)->finalize = trammel_notice_finalize;
  widget_class->map = trammel_notice_map;

  dismissed_signal
      = g_signal_new ("dismissed", TRAMMEL_TYPE_NOTICE, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);

  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/notice.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelNotice, revealer);
  gtk_widget_class_bind_template_child (widget_class, TrammelNotice, box);
  gtk_widget_class_bind_template_child (widget_class, TrammelNotice, icon);
  gtk_widget_class_bind_template_child (widget_class, TrammelNotice, text);
  gtk_widget_class_bind_template_child (widget_class, TrammelNotice, answers);
  gtk_widget_class_bind_template_child (widget_class, TrammelNotice, close);
  gtk_widget_class_bind_template_callback (widget_class, trammel_notice_dismiss);
  gtk_widget_class_bind_template_callback (widget_class, revealed_changed);
}

static void
trammel_notice_init (TrammelNotice *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));

  GtkEventController *motion = gtk_event_controller_motion_new ();
  g_signal_connect (motion, "notify::contains-pointer", G_CALLBACK (pointer_moved), self);
  gtk_widget_add_controller (GTK_WIDGET (self), motion);

  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
}
