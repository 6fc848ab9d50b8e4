/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/notices.h"

struct _TrammelNotices
{
  GtkWidget parent_instance;
};

G_DEFINE_FINAL_TYPE (TrammelNotices, trammel_notices, GTK_TYPE_WIDGET)

static TrammelNotice *
notice_of_key (TrammelNotices *self, const char *key)
{
  for (GtkWidget *child = gtk_widget_get_first_child (GTK_WIDGET (self)); child;
       child = gtk_widget_get_next_sibling (child))
    if (g_strcmp0 (trammel_notice_key (TRAMMEL_NOTICE (child)), key) == 0)
      return TRAMMEL_NOTICE (child);
  return NULL;
}

void
trammel_notices_show (TrammelNotices *self, const char *key, TrammelNoticeKind kind, const char *text,
                      const TrammelAnswer *answers, gsize n_answers)
{
  g_return_if_fail (TRAMMEL_IS_NOTICES (self));

  TrammelNotice *old = notice_of_key (self, key);
  if (old)
    gtk_widget_unparent (GTK_WIDGET (old));

  GtkWidget *notice = trammel_notice_new (key, kind, text, answers, n_answers);
  g_signal_connect (notice, "dismissed", G_CALLBACK (gtk_widget_unparent), NULL);
  gtk_widget_set_parent (notice, GTK_WIDGET (self));
}

void
trammel_notices_dismiss (TrammelNotices *self, const char *key)
{
  g_return_if_fail (TRAMMEL_IS_NOTICES (self));
  TrammelNotice *notice = notice_of_key (self, key);
  if (notice)
    trammel_notice_dismiss (notice);
}

static void
trammel_notices_dispose (GObject *object)
{
  GtkWidget *child;
  while ((child = gtk_widget_get_first_child (GTK_WIDGET (object))))
    gtk_widget_unparent (child);
  G_OBJECT_CLASS (trammel_notices_parent_class)->dispose (object);
}

static void
trammel_notices_class_init (TrammelNoticesClass *klass)
{
  G_OBJECT_CLASS (klass)->dispose = trammel_notices_dispose;
  gtk_widget_class_set_layout_manager_type (GTK_WIDGET_CLASS (klass), GTK_TYPE_BOX_LAYOUT);
}

static void
trammel_notices_init (TrammelNotices *self)
{
  gtk_orientable_set_orientation (GTK_ORIENTABLE (gtk_widget_get_layout_manager (GTK_WIDGET (self))),
                                  GTK_ORIENTATION_VERTICAL);
}
