/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/rewrite.h"

#include <string.h>

#include "window/unbroken-text.h"

void
trammel_rewrite_label (GtkLabel *label, const char *text)
{
  g_return_if_fail (GTK_IS_LABEL (label));
  g_autofree char *unbroken = trammel_unbroken_text (text ? text : "");
  if (strcmp (gtk_label_get_text (label), unbroken) != 0)
    gtk_label_set_text (label, unbroken);
}

void
trammel_rewrite_button (GtkButton *button, const char *label)
{
  g_return_if_fail (GTK_IS_BUTTON (button) && label != NULL);
  if (g_strcmp0 (gtk_button_get_label (button), label) != 0)
    gtk_button_set_label (button, label);
}

void
trammel_rewrite_placeholder (GtkEntry *entry, const char *text)
{
  g_return_if_fail (GTK_IS_ENTRY (entry));
  if (g_strcmp0 (gtk_entry_get_placeholder_text (entry), text) != 0)
    gtk_entry_set_placeholder_text (entry, text);
}

/* A visible widget that gets a tooltip asks the display where the pointer is and waits for the answer, three times
 * over. One that is not on the screen yet need not. */
void
trammel_rewrite_tooltip (GtkWidget *widget, const char *text)
{
  g_return_if_fail (GTK_IS_WIDGET (widget));
  if (g_strcmp0 (gtk_widget_get_tooltip_text (widget), text) == 0)
    return;

  gboolean hide = gtk_widget_get_visible (widget) && !gtk_widget_get_mapped (widget);
  if (hide)
    gtk_widget_set_visible (widget, FALSE);
  gtk_widget_set_tooltip_text (widget, text);
  if (hide)
    gtk_widget_set_visible (widget, TRUE);
}

void
trammel_rewrite_refused (GtkWidget *control, gboolean refused)
{
  g_return_if_fail (GTK_IS_WIDGET (control));
  if (!gtk_widget_has_css_class (control, "error") == !refused)
    return;

  if (refused)
    gtk_widget_add_css_class (control, "error");
  else
    gtk_widget_remove_css_class (control, "error");
  gtk_accessible_update_state (GTK_ACCESSIBLE (control), GTK_ACCESSIBLE_STATE_INVALID,
                               refused ? GTK_ACCESSIBLE_INVALID_TRUE : GTK_ACCESSIBLE_INVALID_FALSE, -1);
}

void
trammel_rewrite_classes (GtkWidget *widget, const char *const *classes)
{
  g_return_if_fail (GTK_IS_WIDGET (widget) && classes != NULL);
  g_auto (GStrv) before = gtk_widget_get_css_classes (widget);
  if (!g_strv_equal ((const char *const *)before, classes))
    gtk_widget_set_css_classes (widget, (const char **)classes);
}
