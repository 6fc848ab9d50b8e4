/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/readings-page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/piece-drawing.h"
#include "window/beside.h"
#include "window/homes-offer.h"
#include "window/instruments-editor.h"
#include "window/piece-rows.h"
#include "window/piece-view.h"
#include "window/position-entry.h"
#include "window/reading-hints.h"
#include "window/rewrite.h"
#include "window/row-reason.h"
#include "window/sheet.h"
#include "window/wrapping-row.h"

struct _TrammelReadingsPage
{
  GtkWidget parent_instance;

  TrammelSession *session;

  GtkWidget *root;
  GtkWidget *add_piece;
  GtkWidget *summary;
  GtkWidget *news;
  GtkWidget *news_icon;
  GtkWidget *news_text;
  TrammelHomesOffer *homes;
  GtkWidget *empty;
  TrammelPositionEntry *positions;
  GtkWidget *work;
  GtkWidget *sheet_place;
  TrammelSheet *sheet;
  GtkWidget *status_icon;
  GtkWidget *status;
  TrammelPieceView *piece;
  GtkWidget *heading;
  GtkWidget *hint;
  GtkWidget *instruments;
};

G_DEFINE_FINAL_TYPE (TrammelReadingsPage, trammel_readings_page, GTK_TYPE_WIDGET)

/* News: what became of an act; stays until it is put away */

static void
put_news_away (TrammelReadingsPage *self)
{
  gtk_widget_set_visible (self->news, FALSE);
}

static void
tell_news (TrammelReadingsPage *self, const char *text, gboolean trouble)
{
  gtk_label_set_text (GTK_LABEL (self->news_text), text);
  gtk_image_set_from_icon_name (GTK_IMAGE (self->news_icon),
                                trouble ? "dialog-error-symbolic" : "object-select-symbolic");
  gtk_widget_set_css_classes (self->news_text, (const char *[]){ trouble ? "trouble" : "", NULL });
  gtk_widget_set_css_classes (self->news_icon, (const char *[]){ trouble ? "trouble" : "", NULL });
  gtk_widget_set_visible (self->news, TRUE);
}

static void
add_piece (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelReadingsPage *self = data;
  g_autoptr (GError) error = NULL;
  const TrammelTestPiece *piece = trammel_piece_view_piece (self->piece, &error);
  if (!piece)
    {
      g_autofree char *text = g_strdup_printf (_ ("The test piece cannot be laid out: %s"), error->message);
      tell_news (self, text, TRUE);
      return;
    }
  int first;
  gsize n = trammel_piece_rows_add (self->session, piece, &first);
  g_autofree char *text = trammel_piece_rows_words (n);
  tell_news (self, text, FALSE);
  if (first >= 0)
    trammel_sheet_go_to (self->sheet, first, TRAMMEL_COLUMN_MEASURED);
}

/* A position test, entered in the sheet's place */

static void
show_empty (TrammelReadingsPage *self)
{
  gsize n = trammel_readings_length (trammel_machine_readings (trammel_session_machine (self->session)));
  gtk_widget_set_visible (self->empty, n == 0 && gtk_widget_get_visible (self->work));
}

static void
show_entry (TrammelReadingsPage *self, gboolean shown)
{
  gtk_widget_set_visible (GTK_WIDGET (self->positions), shown);
  gtk_widget_set_visible (self->work, !shown);
  show_empty (self);
}

static void
enter_positions (TrammelReadingsPage *self, const char *text)
{
  put_news_away (self);
  show_entry (self, TRUE);
  trammel_position_entry_begin (self->positions, text);
}

static void
position_test (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  enter_positions (data, NULL);
}

static void
list_pasted (TrammelSheet *sheet, const char *text, TrammelReadingsPage *self)
{
  enter_positions (self, text);
}

/* A pasted list that may be one of homes */

static void
column_pasted (TrammelSheet *sheet, guint first, guint n, TrammelReadingsPage *self)
{
  put_news_away (self);
  trammel_homes_offer_show (self->homes, self->session, first, n);
}

static void
homes_made (TrammelReadingsPage *self)
{
  tell_news (self, _ ("Taken for homes. Result tells how well the switch repeats."), FALSE);
}

static void
positions_done (TrammelReadingsPage *self, int first)
{
  show_entry (self, FALSE);
  if (first < 0)
    {
      gtk_widget_grab_focus (GTK_WIDGET (self->sheet));
      return;
    }
  const gsize n = trammel_readings_length (trammel_machine_readings (trammel_session_machine (self->session)));
  const gsize n_added = n - (gsize)first;
  g_autofree char *text = g_strdup_printf (ngettext ("%d reading added.", "%d readings added.", n_added), (int)n_added);
  tell_news (self, text, FALSE);
  trammel_sheet_go_to (self->sheet, first, TRAMMEL_COLUMN_MEASURED);
}

/* The sheet and what belongs to its current row */

static void
sheet_told (TrammelSheet *sheet, TrammelReadingsPage *self)
{
  gboolean trouble;
  const char *message = trammel_sheet_message (sheet, &trouble);
  gtk_widget_set_visible (self->status_icon, message != NULL && trouble);
  gtk_label_set_text (GTK_LABEL (self->status),
                      message ? message : _ ("Enter: down. Tab: right. F2: change. Alt+Down: list. Ctrl+Tab: leave."));
  gtk_widget_set_css_classes (self->status,
                              (const char *[]){ message ? (trouble ? "trouble" : "") : "dim-label", NULL });
}

static const TrammelReading *
selected_reading (TrammelReadingsPage *self)
{
  const TrammelReadings *readings = trammel_machine_readings (trammel_session_machine (self->session));
  int row = trammel_session_selected_reading (self->session);
  return row >= 0 && (gsize)row < trammel_readings_length (readings) ? trammel_readings_get (readings, row) : NULL;
}

static void
show_row (TrammelReadingsPage *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  const TrammelReading *reading = selected_reading (self);
  trammel_piece_view_show (self->piece, machine, reading, TRUE);
  if (!reading)
    {
      gtk_label_set_text (GTK_LABEL (self->heading), _ ("A new reading"));
      gtk_label_set_text (GTK_LABEL (self->hint),
                          _ ("Say what was measured (kind), along what, what was commanded (nominal) and what the "
                             "instrument shows (measured). Units may be typed: 1/4 in, 12.8 cm."));
      return;
    }
  g_autofree char *words = reading->has_along
                               ? trammel_piece_reading_to_words (reading, trammel_machine_display_unit (machine))
                               : g_strdup (trammel_reading_kind_label (reading->kind));
  g_autofree char *hint = trammel_reading_hint (reading);
  g_autofree char *text
      = reading->note && isnan (reading->measured) ? g_strconcat (reading->note, "\n", hint, NULL) : g_strdup (hint);
  gtk_label_set_text (GTK_LABEL (self->heading), words);
  gtk_label_set_text (GTK_LABEL (self->hint), text);
}

static void
show_summary (TrammelReadingsPage *self)
{
  gsize n = trammel_readings_length (trammel_machine_readings (trammel_session_machine (self->session)));
  g_autoptr (GError) error = NULL;
  const TrammelAdjustment *adjustment = trammel_session_adjustment (self->session, &error);
  g_autofree char *count = g_strdup_printf (ngettext ("%d reading", "%d readings", n), (int)n);
  g_autofree char *text = NULL;

  int refused = -1;
  g_autofree char *reason = error ? trammel_row_reason (error->message, &refused) : NULL;
  if (adjustment)
    text = g_strdup_printf (_ ("%s, %d in the fit"), count, (int)trammel_adjustment_n_used (adjustment));
  else if (trammel_session_is_adjusting (self->session))
    text = g_strdup_printf (_ ("%s, fitting…"), count);
  else if (refused >= 0)
    text = g_strdup_printf (_ ("%s, no fit because of row %d"), count, refused + 1);
  else
    text = g_strdup_printf (error ? _ ("%s, no fit") : _ ("%s, none to fit"), count);
  gtk_label_set_text (GTK_LABEL (self->summary), n > 0 ? text : "");
  trammel_rewrite_tooltip (self->summary, n > 0 ? reason : NULL);
}

static void
show_all (TrammelReadingsPage *self)
{
  show_empty (self);
  show_row (self);
  show_summary (self);
  trammel_homes_offer_update (self->homes);
}

static int
row_of_feature (TrammelReadingsPage *self, const TrammelFeature *feature)
{
  gsize n;
  const TrammelReading *rows
      = trammel_readings_rows (trammel_machine_readings (trammel_session_machine (self->session)), &n);
  const TrammelTestPiece *piece = trammel_piece_view_piece (self->piece, NULL);
  for (gsize i = 0; i < n; i++)
    if (trammel_test_piece_find (piece, &rows[i]) == feature)
      return (int)i;
  return -1;
}

static void
feature_picked (TrammelReadingsPage *self, gpointer feature)
{
  int row = row_of_feature (self, feature);
  if (row >= 0)
    trammel_sheet_go_to (self->sheet, row, TRAMMEL_COLUMN_MEASURED);
}

static gboolean
trammel_readings_page_grab_focus (GtkWidget *widget)
{
  TrammelReadingsPage *self = TRAMMEL_READINGS_PAGE (widget);
  return gtk_widget_get_visible (self->work)
             ? gtk_widget_grab_focus (GTK_WIDGET (self->sheet))
             : gtk_widget_child_focus (GTK_WIDGET (self->positions), GTK_DIR_TAB_FORWARD);
}

static gboolean
focus_sheet (gpointer data)
{
  if (gtk_widget_get_mapped (data))
    gtk_widget_grab_focus (data);
  return G_SOURCE_REMOVE;
}

/* Whoever comes here comes to type. A stack that changes its page moves the focus by itself, so this waits for it. */
static void
trammel_readings_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (trammel_readings_page_parent_class)->map (widget);
  g_idle_add_full (G_PRIORITY_HIGH_IDLE, focus_sheet, g_object_ref (widget), g_object_unref);
}

static void
another_machine (TrammelReadingsPage *self)
{
  put_news_away (self);
  show_entry (self, FALSE);
}

static void
trammel_readings_page_dispose (GObject *object)
{
  TrammelReadingsPage *self = TRAMMEL_READINGS_PAGE (object);
  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_readings_page_parent_class)->dispose (object);
}

static void
trammel_readings_page_class_init (TrammelReadingsPageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  g_type_ensure (TRAMMEL_TYPE_BESIDE);
  g_type_ensure (TRAMMEL_TYPE_HOMES_OFFER);
  g_type_ensure (TRAMMEL_TYPE_PIECE_VIEW);
  g_type_ensure (TRAMMEL_TYPE_POSITION_ENTRY);
  g_type_ensure (TRAMMEL_TYPE_WRAPPING_ROW);

  G_OBJECT_CLASS (klass)->dispose = trammel_readings_page_dispose;
  widget_class->grab_focus = trammel_readings_page_grab_focus;
  widget_class->map = trammel_readings_page_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/readings-page.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, add_piece);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, summary);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, news);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, news_icon);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, news_text);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, homes);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, empty);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, positions);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, work);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, sheet_place);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, status_icon);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, status);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, piece);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, heading);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, hint);
  gtk_widget_class_bind_template_child (widget_class, TrammelReadingsPage, instruments);
  gtk_widget_class_bind_template_callback (widget_class, homes_made);
  gtk_widget_class_bind_template_callback (widget_class, positions_done);
  gtk_widget_class_bind_template_callback (widget_class, put_news_away);
  gtk_widget_class_bind_template_callback (widget_class, feature_picked);
}

static void
trammel_readings_page_init (TrammelReadingsPage *self)
{
  static const GActionEntry entries[] = {
    { .name = "add-piece", .activate = add_piece },
    { .name = "position-test", .activate = position_test },
  };
  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();

  gtk_widget_init_template (GTK_WIDGET (self));
  g_action_map_add_action_entries (G_ACTION_MAP (group), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "readings", G_ACTION_GROUP (group));
}

GtkWidget *
trammel_readings_page_new (TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session), NULL);

  TrammelReadingsPage *self = g_object_new (TRAMMEL_TYPE_READINGS_PAGE, NULL);
  self->session = g_object_ref (session);
  self->sheet = TRAMMEL_SHEET (trammel_sheet_new (session));
  gtk_scrolled_window_set_child (GTK_SCROLLED_WINDOW (self->sheet_place), GTK_WIDGET (self->sheet));
  gtk_widget_insert_action_group (GTK_WIDGET (self), "sheet", trammel_sheet_actions (self->sheet));
  gtk_expander_set_child (GTK_EXPANDER (self->instruments), trammel_instruments_editor_new (session));

  trammel_position_entry_set_session (self->positions, session);
  g_signal_connect (self->sheet, "told", G_CALLBACK (sheet_told), self);
  g_signal_connect (self->sheet, "list-pasted", G_CALLBACK (list_pasted), self);
  g_signal_connect (self->sheet, "column-pasted", G_CALLBACK (column_pasted), self);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (show_all), self);
  g_signal_connect_swapped (session, "adjusted", G_CALLBACK (show_summary), self);
  g_signal_connect_swapped (session, "selection-changed", G_CALLBACK (show_row), self);
  g_signal_connect_swapped (session, "opened", G_CALLBACK (another_machine), self);
  sheet_told (self->sheet, self);
  show_all (self);
  return GTK_WIDGET (self);
}
