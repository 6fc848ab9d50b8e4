/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/drive-page.h"

#include <glib/gi18n.h>

#include "drive/motor.h"
#include "drive/output.h"
#include "drive/stage.h"
#include "window/bench-tabs.h"
#include "window/facts-view.h"
#include "window/part-card.h"
#include "window/train-view.h"

struct _TrammelDrivePage
{
  GtkWidget parent_instance;

  TrammelSession *session;

  GtkWidget *root;
  GtkWidget *empty;
  GtkWidget *content;
  TrammelTrainView *view;
  TrammelFactsView *facts;
  GtkWidget *row; /* the cards, motor to output */
  GtkBox *tabs;
  GtkStack *bench; /* the parts, and the panels of bench-tabs.h */
  GtkWidget *motor_card;
  GtkWidget *output_card;
  GtkWidget *add;
  GPtrArray *stage_cards; /* borrowed, in order */
  int shown_axis;         /* index; −1: none */
  gboolean stale;         /* something changed while nobody looked */
};

G_DEFINE_FINAL_TYPE (TrammelDrivePage, trammel_drive_page, GTK_TYPE_WIDGET)

static const TrammelAxis *
selected_axis (TrammelDrivePage *self)
{
  const TrammelMachine *machine = trammel_session_machine (self->session);
  int i = trammel_session_selected_axis (self->session);
  return i >= 0 && (gsize)i < trammel_machine_n_axes (machine) ? trammel_machine_axis (machine, i) : NULL;
}

static const TrammelTrain *
selected_train (TrammelDrivePage *self)
{
  const TrammelAxis *axis = selected_axis (self);
  return axis ? trammel_axis_train (axis) : NULL;
}

/* Takes @train. */
static void
put_train (TrammelDrivePage *self, TrammelTrain *train, const char *what, const char *merge)
{
  g_autoptr (TrammelTrain) owned = train;
  int i = trammel_session_selected_axis (self->session);
  if (owned && i >= 0)
    trammel_session_edit (self->session, trammel_machine_with_train (trammel_session_machine (self->session), i, owned),
                          what, merge);
}

static void
motor_edited (TrammelPartCard *card, const TrammelRecord *record, TrammelDrivePage *self)
{
  put_train (self, trammel_train_with_motor (selected_train (self), record), _ ("change the motor"), "motor");
}

static void
output_edited (TrammelPartCard *card, const TrammelRecord *record, TrammelDrivePage *self)
{
  put_train (self, trammel_train_with_output (selected_train (self), record), _ ("change the output"), "output");
}

static guint
card_index (TrammelDrivePage *self, TrammelPartCard *card)
{
  guint i = 0;
  g_ptr_array_find (self->stage_cards, card, &i);
  return i;
}

static void
stage_edited (TrammelPartCard *card, const TrammelRecord *record, TrammelDrivePage *self)
{
  guint i = card_index (self, card);
  g_autofree char *merge = g_strdup_printf ("stage %u", i);
  put_train (self, trammel_train_with_stage (selected_train (self), i, record), _ ("change a stage"), merge);
}

static void
stage_moved (TrammelPartCard *card, int by, TrammelDrivePage *self)
{
  guint i = card_index (self, card);
  if ((by < 0 && i == 0) || (by > 0 && i + 1 >= self->stage_cards->len))
    return;
  put_train (self, trammel_train_with_stage_moved (selected_train (self), i, i + by), _ ("move a stage"), NULL);
  trammel_session_select_part (self->session, (int)i + by + 1);
}

static void
stage_removed (TrammelPartCard *card, TrammelDrivePage *self)
{
  put_train (self, trammel_train_without_stage (selected_train (self), card_index (self, card)), _ ("remove a stage"),
             NULL);
}

static void
part_card_selected (TrammelPartCard *card, TrammelDrivePage *self)
{
  int part = GTK_WIDGET (card) == self->motor_card    ? 0
             : GTK_WIDGET (card) == self->output_card ? (int)self->stage_cards->len + 1
                                                      : (int)card_index (self, card) + 1;
  trammel_session_select_part (self->session, part);
}

static void
part_selected (TrammelTrainView *view, int part, TrammelDrivePage *self)
{
  trammel_session_select_part (self->session, part);
}

static void
add_stage (GSimpleAction *action, GVariant *type, gpointer data)
{
  TrammelDrivePage *self = TRAMMEL_DRIVE_PAGE (data);
  const TrammelTrain *train = selected_train (self);
  const TrammelRecordKind *kind = trammel_stage_kind (g_variant_get_string (type, NULL));
  if (!train || !kind)
    return;

  /* After the stage that is selected, else as the last one */
  int selected = trammel_session_selected_part (self->session);
  gsize n = trammel_train_n_stages (train);
  gsize place = selected >= 0 && (gsize)selected <= n ? (gsize)selected : n;
  g_autoptr (TrammelRecord) stage = trammel_record_new (kind);
  g_autoptr (GError) error = NULL;
  TrammelTrain *with = trammel_train_with_stage_inserted (train, place, stage, &error);
  if (!with)
    {
      trammel_part_card_set_trouble (TRAMMEL_PART_CARD (self->motor_card), error->message);
      return;
    }
  put_train (self, with, _ ("add a stage"), NULL);
  trammel_session_select_part (self->session, (int)place + 1);
}

static GtkWidget *
make_card (TrammelDrivePage *self, TrammelPartRole role)
{
  GtkWidget *card = trammel_part_card_new (role);
  g_signal_connect (card, "selected", G_CALLBACK (part_card_selected), self);
  if (role == TRAMMEL_PART_STAGE)
    {
      g_signal_connect (card, "edited", G_CALLBACK (stage_edited), self);
      g_signal_connect (card, "moved", G_CALLBACK (stage_moved), self);
      g_signal_connect (card, "removed", G_CALLBACK (stage_removed), self);
    }
  else
    g_signal_connect (card, "edited", G_CALLBACK (role == TRAMMEL_PART_MOTOR ? motor_edited : output_edited), self);
  return card;
}

static void
match_number_of_cards (TrammelDrivePage *self, gsize n)
{
  while (self->stage_cards->len > n)
    {
      gtk_box_remove (GTK_BOX (self->row), g_ptr_array_index (self->stage_cards, self->stage_cards->len - 1));
      g_ptr_array_set_size (self->stage_cards, self->stage_cards->len - 1);
    }
  while (self->stage_cards->len < n)
    {
      GtkWidget *card = make_card (self, TRAMMEL_PART_STAGE);
      GtkWidget *before = gtk_widget_get_prev_sibling (self->add);
      gtk_box_insert_child_after (GTK_BOX (self->row), card, before);
      g_ptr_array_add (self->stage_cards, card);
    }
}

/* "stages[1].driver: …" belongs on the second stage's card, "motor.…" on the motor's, all else on the output's. */
static TrammelPartCard *
card_of_trouble (TrammelDrivePage *self, const char *message)
{
  guint stage;
  if (g_str_has_prefix (message, "motor"))
    return TRAMMEL_PART_CARD (self->motor_card);
  if (sscanf (message, "stages[%u]", &stage) == 1 && stage < self->stage_cards->len)
    return TRAMMEL_PART_CARD (g_ptr_array_index (self->stage_cards, stage));
  return TRAMMEL_PART_CARD (self->output_card);
}

static void
show_trouble (TrammelDrivePage *self, const char *message)
{
  trammel_part_card_set_trouble (TRAMMEL_PART_CARD (self->motor_card), NULL);
  trammel_part_card_set_trouble (TRAMMEL_PART_CARD (self->output_card), NULL);
  for (guint i = 0; i < self->stage_cards->len; i++)
    trammel_part_card_set_trouble (TRAMMEL_PART_CARD (g_ptr_array_index (self->stage_cards, i)), NULL);
  if (!message)
    return;
  const char *reason = strstr (message, ": ");
  trammel_part_card_set_trouble (card_of_trouble (self, message), reason ? reason + 2 : message);
}

static void
show_selection (TrammelDrivePage *self)
{
  int part = trammel_session_selected_part (self->session);
  int n = (int)self->stage_cards->len;
  trammel_train_view_set_selected_part (self->view, part);
  trammel_part_card_set_selected (TRAMMEL_PART_CARD (self->motor_card), part == 0);
  trammel_part_card_set_selected (TRAMMEL_PART_CARD (self->output_card), part == n + 1);
  for (int i = 0; i < n; i++)
    trammel_part_card_set_selected (TRAMMEL_PART_CARD (g_ptr_array_index (self->stage_cards, i)), part == i + 1);
}

static void
leave_axis (TrammelDrivePage *self)
{
  trammel_part_card_restore (TRAMMEL_PART_CARD (self->motor_card));
  trammel_part_card_restore (TRAMMEL_PART_CARD (self->output_card));
  for (guint i = 0; i < self->stage_cards->len; i++)
    trammel_part_card_restore (TRAMMEL_PART_CARD (g_ptr_array_index (self->stage_cards, i)));
}

static void
show_cards (TrammelDrivePage *self, const TrammelAxis *axis, const TrammelUnit *unit)
{
  const TrammelTrain *train = trammel_axis_train (axis);
  gsize n = trammel_train_n_stages (train);
  gboolean rotary = trammel_axis_kind (axis) == TRAMMEL_AXIS_ROTARY;

  match_number_of_cards (self, n);
  trammel_part_card_show (TRAMMEL_PART_CARD (self->motor_card), _ ("Motor"), trammel_train_motor (train), unit, rotary);
  trammel_part_card_show (TRAMMEL_PART_CARD (self->output_card), _ ("Output"), trammel_train_output (train), unit,
                          rotary);
  for (gsize i = 0; i < n; i++)
    {
      g_autofree char *title = g_strdup_printf (_ ("Stage %u"), (guint)i + 1);
      TrammelPartCard *card = TRAMMEL_PART_CARD (g_ptr_array_index (self->stage_cards, i));
      trammel_part_card_show (card, title, trammel_train_stage (train, i), unit, rotary);
      trammel_part_card_set_position (card, i == 0, i + 1 == n);
    }
}

static void
show_all (TrammelDrivePage *self)
{
  /* Typing readings must not wait for a page that nobody sees. */
  self->stale = !gtk_widget_get_mapped (GTK_WIDGET (self));
  if (self->stale)
    return;

  const TrammelAxis *axis = selected_axis (self);
  int i = trammel_session_selected_axis (self->session);
  if (i != self->shown_axis)
    leave_axis (self);
  self->shown_axis = i;
  gtk_widget_set_visible (self->empty, axis == NULL);
  gtk_widget_set_visible (self->content, axis != NULL);
  const TrammelUnit *unit = trammel_machine_display_unit (trammel_session_machine (self->session));
  g_autoptr (GError) error = NULL;
  const TrammelFacts *facts = axis ? trammel_session_facts (self->session, i, &error) : NULL;
  trammel_train_view_show (self->view, axis, facts, unit, trammel_session_file (self->session));
  if (!axis)
    return;

  show_cards (self, axis, unit);
  show_trouble (self, error ? error->message : NULL);
  trammel_facts_view_show (self->facts, axis, facts, error ? error->message : NULL, unit);
  show_selection (self);
}

static GMenuModel *
stage_menu (void)
{
  gsize n;
  const TrammelRecordKind *const *kinds = trammel_stage_kinds (&n);
  GMenu *menu = g_menu_new ();
  for (gsize i = 0; i < n; i++)
    {
      g_autoptr (GMenuItem) item = g_menu_item_new (_ (kinds[i]->label), NULL);
      g_menu_item_set_action_and_target (item, "drive.add-stage", "s", kinds[i]->type);
      g_menu_append_item (menu, item);
    }
  return G_MENU_MODEL (menu);
}

static void
trammel_drive_page_map (GtkWidget *widget)
{
  TrammelDrivePage *self = TRAMMEL_DRIVE_PAGE (widget);

  GTK_WIDGET_CLASS (trammel_drive_page_parent_class)->map (widget);
  if (self->stale)
    show_all (self);
}

static void
trammel_drive_page_dispose (GObject *object)
{
  TrammelDrivePage *self = TRAMMEL_DRIVE_PAGE (object);
  if (self->session)
    g_signal_handlers_disconnect_by_data (self->session, self);
  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_pointer (&self->stage_cards, g_ptr_array_unref);
  G_OBJECT_CLASS (trammel_drive_page_parent_class)->dispose (object);
}

static void
trammel_drive_page_class_init (TrammelDrivePageClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  g_type_ensure (TRAMMEL_TYPE_TRAIN_VIEW);
  g_type_ensure (TRAMMEL_TYPE_FACTS_VIEW);

  G_OBJECT_CLASS (klass)->dispose = trammel_drive_page_dispose;
  widget_class->map = trammel_drive_page_map;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/drive-page.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelDrivePage, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelDrivePage, empty);
  gtk_widget_class_bind_template_child (widget_class, TrammelDrivePage, content);
  gtk_widget_class_bind_template_child (widget_class, TrammelDrivePage, view);
  gtk_widget_class_bind_template_child (widget_class, TrammelDrivePage, facts);
  gtk_widget_class_bind_template_child (widget_class, TrammelDrivePage, row);
  gtk_widget_class_bind_template_child (widget_class, TrammelDrivePage, tabs);
  gtk_widget_class_bind_template_child (widget_class, TrammelDrivePage, bench);
  gtk_widget_class_bind_template_child (widget_class, TrammelDrivePage, add);
  gtk_widget_class_bind_template_callback (widget_class, part_selected);
}

static void
trammel_drive_page_init (TrammelDrivePage *self)
{
  static const GActionEntry actions[] = { { .name = "add-stage", .activate = add_stage, .parameter_type = "s" } };

  self->stage_cards = g_ptr_array_new ();
  self->shown_axis = -1;
  gtk_widget_init_template (GTK_WIDGET (self));

  self->motor_card = make_card (self, TRAMMEL_PART_MOTOR);
  self->output_card = make_card (self, TRAMMEL_PART_OUTPUT);
  gtk_box_prepend (GTK_BOX (self->row), self->motor_card);
  gtk_box_append (GTK_BOX (self->row), self->output_card);

  g_autoptr (GSimpleActionGroup) group = g_simple_action_group_new ();
  g_action_map_add_action_entries (G_ACTION_MAP (group), actions, G_N_ELEMENTS (actions), self);
  gtk_widget_insert_action_group (GTK_WIDGET (self), "drive", G_ACTION_GROUP (group));
  g_autoptr (GMenuModel) menu = stage_menu ();
  gtk_menu_button_set_menu_model (GTK_MENU_BUTTON (self->add), menu);
}

GtkWidget *
trammel_drive_page_new (TrammelSession *session)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session), NULL);
  TrammelDrivePage *self = g_object_new (TRAMMEL_TYPE_DRIVE_PAGE, NULL);
  self->session = g_object_ref (session);
  trammel_bench_tabs_fill (self->bench, self->tabs, session);
  g_signal_connect_swapped (session, "changed", G_CALLBACK (show_all), self);
  g_signal_connect_swapped (session, "selection-changed", G_CALLBACK (show_all), self);
  show_all (self);
  return GTK_WIDGET (self);
}
