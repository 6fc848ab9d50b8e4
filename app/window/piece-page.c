/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/piece-page.h"

#include <glib/gi18n.h>
#include <math.h>

#include "draw/display.h"
#include "draw/foresight-sentences.h"
#include "draw/piece-drawing.h"
#include "machine/readings-csv.h"
#include "machine/store.h"
#include "window/bead-panel.h"
#include "window/file-chooser.h"
#include "window/piece-rows.h"
#include "window/piece-view.h"
#include "window/record-editor.h"
#include "window/rewrite.h"

#define MOST_LINES_SHOWN 400

struct _TrammelPiecePage
{
  GtkWidget parent_instance;

  TrammelSession *session;
  GSimpleActionGroup *actions;
  char *text;            /* what is being saved */
  TrammelReading picked; /* the dimension that was clicked */
  gboolean has_picked;
  gboolean showing; /* the choice is set to what is, not by hand */

  GtkWidget *root;
  GtkWidget *trouble;
  TrammelPieceView *piece;
  GtkWidget *choice;
  GtkWidget *effort;
  GtkWidget *promise;
  GtkWidget *cautions;
  GtkWidget *news;
  GtkWidget *news_text;
  GtkWidget *jump;
  GtkWidget *program_expander;
  GtkWidget *program;
  TrammelRecordEditor *editor;
  TrammelBeadPanel *bead;
};

G_DEFINE_FINAL_TYPE (TrammelPiecePage, trammel_piece_page, GTK_TYPE_WIDGET)

static const TrammelMachine *
machine_of (TrammelPiecePage *self)
{
  return trammel_session_machine (self->session);
}

static gboolean
feeds_filament (TrammelPiecePage *self)
{
  return g_strcmp0 (trammel_record_choice (trammel_machine_piece (machine_of (self)), "feed"), "none") != 0;
}

/* What became of an act */

static void
tell (TrammelPiecePage *self, const char *text, gboolean trouble, gboolean about_readings)
{
  gtk_label_set_text (GTK_LABEL (self->news_text), text ? text : "");
  gtk_widget_set_css_classes (self->news_text, (const char *[]){ trouble ? "trouble" : "", NULL });
  gtk_widget_set_visible (self->jump, about_readings);
  gtk_widget_set_visible (self->news, text != NULL);
}

/* (transfer full) (nullable): the program, or NULL with the reason told. */
static char *
make_program (TrammelPiecePage *self)
{
  g_autoptr (GError) error = NULL;
  const TrammelTestPiece *piece = trammel_piece_view_piece (self->piece, &error);
  char *program = piece ? trammel_test_piece_program (piece) : NULL;
  if (!program && error)
    tell (self, error->message, TRUE, FALSE);
  return program;
}

/* Saving */

static void
file_chosen (GFile *file, gpointer data)
{
  TrammelPiecePage *self = data;
  g_autofree char *text = g_steal_pointer (&self->text);
  if (!file || !text)
    return;
  g_autofree char *path = g_file_get_path (file);
  g_autoptr (GError) error = NULL;
  gboolean saved = path && trammel_store_write_text (path, text, strlen (text), &error);
  g_autofree char *shown = path ? g_filename_display_name (path) : NULL;
  g_autofree char *news = saved   ? g_strdup_printf (_ ("Saved as %s."), shown)
                          : error ? g_strdup_printf (_ ("Not saved. %s"), error->message)
                                  : g_strdup (_ ("Not saved. The folder is not on this computer."));
  tell (self, news, !saved, FALSE);
}

/* Asks where to, and saves @text there (taken). */
static void
save_text (TrammelPiecePage *self, char *text, const char *title, TrammelFiles files, const char *name)
{
  GtkRoot *root = gtk_widget_get_root (GTK_WIDGET (self));
  if (!text || !GTK_IS_WINDOW (root))
    {
      g_free (text);
      return;
    }
  g_free (self->text);
  self->text = text;
  trammel_file_chooser_save (GTK_WINDOW (root), title, files, name, trammel_session_file (self->session), file_chosen,
                             self);
}

/* "ladder.gcode": what is proposed. (transfer full) */
static char *
file_name (TrammelPiecePage *self, const char *extension)
{
  return g_strconcat (trammel_record_kind (trammel_machine_piece (machine_of (self)))->type, ".", extension, NULL);
}

static void
save_program (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  g_autofree char *name = file_name (data, "gcode");
  save_text (data, make_program (data), _ ("Save the program"), TRAMMEL_FILES_ANY, name);
}

static void
copy_program (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelPiecePage *self = data;
  g_autofree char *program = make_program (self);
  if (!program)
    return;
  gdk_clipboard_set_text (gtk_widget_get_clipboard (GTK_WIDGET (self)), program);
  tell (self, _ ("The program is on the clipboard."), FALSE, FALSE);
}

static void
save_plan (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelPiecePage *self = data;
  const TrammelTestPiece *piece = trammel_piece_view_piece (self->piece, NULL);
  if (!piece)
    return;
  g_autoptr (TrammelReadings) plan = trammel_test_piece_plan (piece);
  g_autofree char *name = file_name (self, "csv");
  save_text (self, trammel_readings_csv_write (plan), _ ("Save the reading plan"), TRAMMEL_FILES_READINGS, name);
}

static void
add_rows (GSimpleAction *action, GVariant *parameter, gpointer data)
{
  TrammelPiecePage *self = data;
  const TrammelTestPiece *piece = trammel_piece_view_piece (self->piece, NULL);
  if (!piece)
    return;
  int first;
  gsize n = trammel_piece_rows_add (self->session, piece, &first);
  if (first >= 0)
    trammel_session_select_reading (self->session, first);
  g_autofree char *words = trammel_piece_rows_words (n);
  tell (self, words, FALSE, TRUE);
}

/* Showing */

/* (transfer full) */
static char *
duration_words (double seconds)
{
  int minutes = (int)ceil (seconds / 60);
  if (minutes < 60)
    return g_strdup_printf (ngettext ("%d minute", "%d minutes", minutes), minutes);
  return g_strdup_printf (_ ("%d h %d min"), minutes / 60, minutes % 60);
}

/* Lengths that matter in meters on the workshop floor. (transfer full) */
static char *
long_length (double mm, const TrammelUnit *unit)
{
  if (trammel_unit_factor (unit) != 1)
    return trammel_display_length (mm, unit, 1);
  g_autofree char *meters = trammel_display_significant (mm / 1000, 3);
  return g_strconcat (meters, " m", NULL);
}

static void
show_effort (TrammelPiecePage *self, const TrammelTestPiece *piece)
{
  gtk_widget_set_visible (self->effort, piece != NULL);
  if (!piece)
    return;
  double length, seconds, filament;
  const TrammelUnit *unit = trammel_machine_display_unit (machine_of (self));
  trammel_test_piece_effort (piece, &length, &seconds, &filament);
  g_autofree char *bead = long_length (length, unit), *time = duration_words (seconds);
  g_autofree char *fed = long_length (filament, unit);
  g_autofree char *text = filament > 0 ? g_strdup_printf (_ ("%s of bead, %s of filament, about %s"), bead, fed, time)
                                       : g_strdup_printf (_ ("%s of line, about %s"), bead, time);
  trammel_rewrite_label (GTK_LABEL (self->effort), text);
}

/* What the readings planned for the piece will be able to tell. */
static void
show_promise (TrammelPiecePage *self, const TrammelTestPiece *piece)
{
  g_autoptr (TrammelReadings) plan = piece ? trammel_test_piece_plan (piece) : NULL;
  g_autoptr (TrammelAdjustment) adjustment = plan ? trammel_machine_plan (machine_of (self), plan, NULL) : NULL;
  g_autofree char *words = adjustment ? trammel_sentences_plan (machine_of (self), plan, adjustment) : NULL;

  trammel_rewrite_label (GTK_LABEL (self->promise), words);
  gtk_widget_set_visible (self->promise, words != NULL);
}

static void
show_cautions (TrammelPiecePage *self)
{
  const char *hot
      = _ ("The hot tip and fresh plastic burn. Moving carriages pinch. Never leave a heated machine alone. "
           "Ventilate. Keep a hand near the switch.");
  const char *pen = _ ("Moving carriages pinch. A pen that is held on past its rated time overheats: stay within its "
                       "data sheet. Never leave the machine alone. Keep a hand near the switch.");
  gtk_label_set_text (GTK_LABEL (self->cautions), feeds_filament (self) ? hot : pen);
}

/* An error whose key is a field's stands under that field, any other above the drawing. */
static void
show_trouble (TrammelPiecePage *self, const char *message)
{
  gboolean placed = trammel_record_editor_show_trouble (self->editor, message);
  g_autofree char *sentence = message ? trammel_display_with_capital (message) : NULL;
  trammel_rewrite_label (GTK_LABEL (self->trouble),
                         placed ? _ ("This piece cannot be laid out. The reason is under the field that is marked.")
                                : sentence);
  gtk_widget_set_visible (self->trouble, placed || message);
}

static void
enable_acts (TrammelPiecePage *self, gboolean enabled)
{
  static const char *const acts[] = { "save-program", "copy-program", "save-plan", "add-rows" };
  for (gsize i = 0; i < G_N_ELEMENTS (acts); i++)
    {
      GAction *action = g_action_map_lookup_action (G_ACTION_MAP (self->actions), acts[i]);
      g_simple_action_set_enabled (G_SIMPLE_ACTION (action), enabled);
    }
}

/* (transfer full): the first lines, and how many there are more. */
static char *
first_lines (const char *program)
{
  const char *end = program;
  int lines = 0, more = 0;
  for (; *end && lines < MOST_LINES_SHOWN; end++)
    lines += *end == '\n';
  for (const char *c = end; *c; c++)
    more += *c == '\n';
  if (more == 0)
    return g_strdup (program);
  g_autofree char *start = g_strndup (program, (gsize)(end - program));
  g_autofree char *rest = g_strdup_printf (ngettext ("… and %d line more", "… and %d lines more", more), more);
  return g_strconcat (start, rest, "\n", NULL);
}

static void
show_program (TrammelPiecePage *self)
{
  if (!gtk_expander_get_expanded (GTK_EXPANDER (self->program_expander)))
    return;
  g_autoptr (GError) error = NULL;
  const TrammelTestPiece *piece = trammel_piece_view_piece (self->piece, &error);
  g_autofree char *program = piece ? trammel_test_piece_program (piece) : NULL;
  g_autofree char *text = program ? first_lines (program) : g_strdup (error ? error->message : "");
  gtk_text_buffer_set_text (gtk_text_view_get_buffer (GTK_TEXT_VIEW (self->program)), text, -1);
}

static void
show_fields_that_matter (TrammelPiecePage *self)
{
  static const char *const filament[] = { "filament_diameter", "feed_letter" };
  static const char *const line[] = { "feed_on", "feed_off", "lift_lines", "lower_lines" };
  gboolean feeds = feeds_filament (self);
  for (gsize i = 0; i < G_N_ELEMENTS (filament); i++)
    trammel_record_editor_set_field_visible (self->editor, filament[i], feeds);
  for (gsize i = 0; i < G_N_ELEMENTS (line); i++)
    trammel_record_editor_set_field_visible (self->editor, line[i], !feeds);
}

/* Which piece */

static void
fill_choice (TrammelPiecePage *self)
{
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_piece_kinds (&n);
  g_autoptr (GtkStringList) labels = gtk_string_list_new (NULL);
  for (gsize i = 0; i < n; i++)
    gtk_string_list_append (labels, _ (kinds[i]->label));
  gtk_drop_down_set_model (GTK_DROP_DOWN (self->choice), G_LIST_MODEL (labels));
}

static void
show_choice (TrammelPiecePage *self)
{
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_piece_kinds (&n);
  const TrammelRecordKind *shown = trammel_record_kind (trammel_machine_piece (machine_of (self)));
  self->showing = TRUE;
  for (gsize i = 0; i < n; i++)
    if (kinds[i] == shown)
      gtk_drop_down_set_selected (GTK_DROP_DOWN (self->choice), (guint)i);
  self->showing = FALSE;
}

static void
piece_chosen (TrammelPiecePage *self)
{
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_piece_kinds (&n);
  guint i = gtk_drop_down_get_selected (GTK_DROP_DOWN (self->choice));
  if (self->showing || !self->session || i >= n)
    return;
  const TrammelRecord *piece = trammel_machine_piece (machine_of (self));
  if (trammel_record_kind (piece) == kinds[i])
    return;
  g_autoptr (TrammelRecord) other = trammel_piece_of_kind (piece, kinds[i]);
  tell (self, NULL, FALSE, FALSE);
  trammel_session_edit (self->session, trammel_machine_with_piece (machine_of (self), other),
                        _ ("choose the test piece"), NULL);
}

static void
show_all (TrammelPiecePage *self)
{
  const TrammelMachine *machine = machine_of (self);
  g_autoptr (GError) error = NULL;

  trammel_record_editor_set_record (self->editor, trammel_machine_piece (machine),
                                    trammel_machine_display_unit (machine));
  show_choice (self);
  trammel_piece_view_show (self->piece, machine, NULL, TRUE);
  const TrammelTestPiece *piece = trammel_piece_view_piece (self->piece, &error);
  if (piece && self->has_picked && trammel_test_piece_find (piece, &self->picked))
    trammel_piece_view_show (self->piece, machine, &self->picked, TRUE);
  show_fields_that_matter (self);
  show_trouble (self, error ? error->message : NULL);
  show_effort (self, piece);
  show_promise (self, piece);
  show_cautions (self);
  show_program (self);
  trammel_bead_panel_show (self->bead, self->session);
  enable_acts (self, piece != NULL);
}

static void
session_changed (TrammelPiecePage *self)
{
  if (gtk_widget_get_mapped (GTK_WIDGET (self)))
    show_all (self);
}

static void
record_edited (TrammelPiecePage *self, gpointer record)
{
  tell (self, NULL, FALSE, FALSE);
  trammel_session_edit (self->session, trammel_machine_with_piece (machine_of (self), record),
                        _ ("change the test piece"), NULL);
}

static void
feature_picked (TrammelPiecePage *self, const TrammelFeature *feature)
{
  trammel_reading_init (&self->picked);
  self->picked.kind = (guint8)feature->kind;
  self->picked.along = feature->along;
  self->picked.has_along = TRUE;
  self->picked.nominal = feature->nominal;
  self->has_picked = TRUE;
  show_all (self);
}

static void
trammel_piece_page_map (GtkWidget *widget)
{
  GTK_WIDGET_CLASS (trammel_piece_page_parent_class)->map (widget);
  show_all (TRAMMEL_PIECE_PAGE (widget));
}

static void
trammel_piece_page_dispose (GObject *object)
{
  TrammelPiecePage *self = TRAMMEL_PIECE_PAGE (object);
  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  g_clear_object (&self->actions);
  g_clear_pointer (&self->text, g_free);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  G_OBJECT_CLASS (trammel_piece_page_parent_class)->dispose (object);
}

static void
trammel_piece_page_class_init (TrammelPiecePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  g_type_ensure (TRAMMEL_TYPE_BEAD_PANEL);
  g_type_ensure (TRAMMEL_TYPE_PIECE_VIEW);
  g_type_ensure (TRAMMEL_TYPE_RECORD_EDITOR);

  G_OBJECT_CLASS (klass)->dispose = trammel_piece_page_dispose;
  widget_class->map = trammel_piece_page_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/piece-page.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, trouble);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, piece);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, choice);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, effort);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, promise);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, cautions);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, news);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, news_text);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, jump);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, program_expander);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, program);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, editor);
  gtk_widget_class_bind_template_child (widget_class, TrammelPiecePage, bead);
  gtk_widget_class_bind_template_callback (widget_class, feature_picked);
  gtk_widget_class_bind_template_callback (widget_class, piece_chosen);
  gtk_widget_class_bind_template_callback (widget_class, record_edited);
  gtk_widget_class_bind_template_callback (widget_class, show_program);
}

static void
trammel_piece_page_init (TrammelPiecePage *self)
{
  static const GActionEntry entries[] = {
    { .name = "save-program", .activate = save_program },
    { .name = "copy-program", .activate = copy_program },
    { .name = "save-plan", .activate = save_plan },
    { .name = "add-rows", .activate = add_rows },
  };
  gtk_widget_init_template (GTK_WIDGET (self));
  self->actions = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (self->actions), entries, G_N_ELEMENTS (entries), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "piece", G_ACTION_GROUP (self->actions));
  fill_choice (self);
}

GtkWidget *
trammel_piece_page_new (TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session), NULL);

  TrammelPiecePage *self = g_object_new (TRAMMEL_TYPE_PIECE_PAGE, NULL);
  self->session = g_object_ref (session);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (session_changed), self);
  show_all (self);
  return GTK_WIDGET (self);
}
