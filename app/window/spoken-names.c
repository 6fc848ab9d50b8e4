/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/spoken-names.h"

/* "_Find gears" is spoken "Find gears". (transfer full) */
static char *
without_mnemonic (const char *label)
{
  GString *spoken = g_string_new (NULL);

  for (const char *p = label; *p; p++)
    if (*p != '_' || *++p != '\0')
      g_string_append_c (spoken, *p);
    else
      break;
  return g_string_free (spoken, FALSE);
}

/* The label inside would be spoken after it. */
static void
speak_label (GtkWidget *control)
{
  g_autofree char *label = NULL;
  g_autofree char *spoken = NULL;
  gboolean underline;

  g_object_get (control, "label", &label, "use-underline", &underline, NULL);
  if (!label || (!underline && !GTK_IS_EXPANDER (control)))
    return;
  spoken = underline ? without_mnemonic (label) : g_strdup (label);
  gtk_accessible_update_property (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_PROPERTY_LABEL, spoken, -1);
  gtk_accessible_reset_relation (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_RELATION_LABELLED_BY);
}

/* The button in a drop-down is named by the label whose mnemonic leads there, else by what the drop-down is called. */
static void
name_button_in (GtkWidget *drop_down)
{
  g_autoptr (GList) labels = gtk_widget_list_mnemonic_labels (drop_down);
  GtkWidget *button = gtk_widget_get_first_child (drop_down);

  gtk_accessible_update_relation (GTK_ACCESSIBLE (button), GTK_ACCESSIBLE_RELATION_LABELLED_BY,
                                  labels ? labels->data : drop_down, NULL, -1);
}

static void
name_control (GtkWidget *widget)
{
  if (GTK_IS_DROP_DOWN (widget))
    {
      name_button_in (widget);
      return;
    }
  if (!GTK_IS_BUTTON (widget) && !GTK_IS_CHECK_BUTTON (widget) && !GTK_IS_EXPANDER (widget))
    return;
  speak_label (widget);
  /* GTK writes its own name for it with every new label. */
  g_signal_connect (widget, "notify::label", G_CALLBACK (speak_label), NULL);
}

static gboolean
widget_realized (GSignalInvocationHint *hint, guint n, const GValue *values, gpointer data)
{
  static GQuark named;
  GtkWidget *widget = g_value_get_object (&values[0]);

  if (!named)
    named = g_quark_from_static_string ("trammel-spoken-name");
  if (!g_object_get_qdata (G_OBJECT (widget), named))
    {
      g_object_set_qdata (G_OBJECT (widget), named, GINT_TO_POINTER (TRUE));
      name_control (widget);
    }
  return TRUE;
}

void
trammel_spoken_names_begin (void)
{
  g_type_class_ref (GTK_TYPE_WIDGET); /* its signals are there with the class; it stays as long as the program */
  g_signal_add_emission_hook (g_signal_lookup ("realize", GTK_TYPE_WIDGET), 0, widget_realized, NULL, NULL);
}
