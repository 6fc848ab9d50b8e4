/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/sentence-lines.h"

#include "window/rewrite.h"

static GtkWidget *
add_line (GtkBox *box, const char *style_class)
{
  GtkWidget *label = gtk_label_new (NULL);

  gtk_label_set_xalign (GTK_LABEL (label), 0);
  gtk_label_set_wrap (GTK_LABEL (label), TRUE);
  gtk_label_set_natural_wrap_mode (GTK_LABEL (label), GTK_NATURAL_WRAP_NONE);
  gtk_label_set_selectable (GTK_LABEL (label), TRUE);
  gtk_widget_set_can_focus (label, FALSE);
  if (style_class)
    gtk_widget_add_css_class (label, style_class);
  gtk_box_append (box, label);
  return label;
}

/* A box that was asked how it trades width for height while it was empty and never laid out (as in a part that is not
 * shown yet) goes on answering that it does not (GTK 4.8), and would leave no room for the second line of a sentence.
 */
static void
forget_that_it_was_empty (GtkBox *box)
{
  gtk_widget_measure (GTK_WIDGET (box), GTK_ORIENTATION_HORIZONTAL, -1, NULL, NULL, NULL, NULL);
  gtk_widget_queue_resize (GTK_WIDGET (box));
}

void
trammel_sentence_lines_show (GtkBox *box, const GPtrArray *sentences, const char *style_class)
{
  g_return_if_fail (GTK_IS_BOX (box) && sentences != NULL);

  GtkWidget *line = gtk_widget_get_first_child (GTK_WIDGET (box));
  const gboolean was_empty = line == NULL;
  gboolean any = FALSE;
  for (guint i = 0; i < sentences->len; i++)
    {
      const char *sentence = sentences->pdata[i];
      if (!sentence)
        continue;
      if (!line)
        line = add_line (box, style_class);
      trammel_rewrite_label (GTK_LABEL (line), sentence);
      line = gtk_widget_get_next_sibling (line);
      any = TRUE;
    }
  while (line)
    {
      GtkWidget *next = gtk_widget_get_next_sibling (line);
      gtk_box_remove (box, line);
      line = next;
    }
  gtk_widget_set_visible (GTK_WIDGET (box), any);
  if (was_empty && any)
    forget_that_it_was_empty (box);
}
