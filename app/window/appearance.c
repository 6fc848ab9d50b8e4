/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/appearance.h"

gboolean
trammel_window_is_dark (GtkWidget *widget)
{
  GdkRGBA ink;
  g_return_val_if_fail (GTK_IS_WIDGET (widget), FALSE);
  gtk_style_context_get_color (gtk_widget_get_style_context (widget), &ink);
  /* Relative luminance of the text, ITU-R BT.709 weights */
  return 0.2126 * ink.red + 0.7152 * ink.green + 0.0722 * ink.blue > 0.5;
}
