/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/train-view.h"

#include <glib/gi18n.h>

#include "draw/display.h"
#include "draw/train-export.h"
#include "machine/store.h"
#include "window/file-chooser.h"
#include "window/train-canvas.h"

#define ZOOM_STEP 1.25

struct _TrammelTrainView
{
  GtkWidget parent_instance;

  GtkWidget *root;
  TrammelTrainCanvas *canvas;
  GtkToggleButton *play;
  GtkDropDown *speed;
  GtkLabel *turned;
  GtkToggleButton *dimensions;

  double travel_per_turn; /* towards positive counts, mm or degrees; NaN: not known */
  gboolean rotary;
  const TrammelUnit *unit;
  GFile *file;
  char letter;
  TrammelPictureFormat format; /* of the file being chosen */
};

G_DEFINE_FINAL_TYPE (TrammelTrainView, trammel_train_view, GTK_TYPE_WIDGET)

enum
{
  PART_SELECTED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

static void
show_turned (TrammelTrainView *self)
{
  double turns = trammel_train_canvas_turns (self->canvas), travel = turns * self->travel_per_turn;
  g_autofree char *turned = trammel_display_number (turns, 2);
  if (isnan (travel))
    {
      g_autofree char *text = g_strdup_printf (_ ("%s turns"), turned);
      gtk_label_set_text (self->turned, text);
      return;
    }
  g_autofree char *degrees = trammel_display_number (travel, 2);
  g_autofree char *moved
      = self->rotary ? g_strconcat (degrees, "°", NULL)
                     : trammel_display_length (travel, self->unit, trammel_unit_factor (self->unit) == 1 ? 3 : 4);
  /* Translators: two short lines beside the controls of the drawing, room for some 16 letters each; abbreviate. Of the
   * motor, and of the carriage. */
  g_autofree char *text = g_strdup_printf (_ ("%s turns\n%s"), turned, moved);
  gtk_label_set_text (self->turned, text);
}

void
trammel_train_view_show (TrammelTrainView *self, const TrammelAxis *axis, const TrammelFacts *facts,
                         const TrammelUnit *unit, GFile *file)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_VIEW (self) && unit != NULL);

  self->unit = unit;
  self->travel_per_turn = facts ? facts->travel_per_motor_turn * facts->direction : NAN;
  self->rotary = facts && facts->rotary;
  self->letter = axis ? trammel_axis_letter (axis) : 0;
  g_set_object (&self->file, file);
  trammel_train_canvas_set_axis (self->canvas, axis, unit);
  show_turned (self);
}

void
trammel_train_view_set_selected_part (TrammelTrainView *self, int part)
{
  g_return_if_fail (TRAMMEL_IS_TRAIN_VIEW (self));
  trammel_train_canvas_set_selected_part (self->canvas, part);
}

static void
part_selected (TrammelTrainCanvas *canvas, int part, TrammelTrainView *self)
{
  g_signal_emit (self, signals[PART_SELECTED], 0, part);
}

static void
play_toggled (TrammelTrainView *self)
{
  trammel_train_canvas_set_playing (self->canvas, gtk_toggle_button_get_active (self->play));
}

static void
playing_changed (TrammelTrainView *self)
{
  gboolean playing = trammel_train_canvas_is_playing (self->canvas);
  gtk_toggle_button_set_active (self->play, playing);
  gtk_button_set_icon_name (GTK_BUTTON (self->play),
                            playing ? "media-playback-pause-symbolic" : "media-playback-start-symbolic");
}

static void
speed_chosen (TrammelTrainView *self)
{
  static const double turns_per_second[] = { 0.05, 0.25, 1, 4 };
  guint i = MIN (gtk_drop_down_get_selected (self->speed), G_N_ELEMENTS (turns_per_second) - 1);
  trammel_train_canvas_set_speed (self->canvas, turns_per_second[i]);
}

static void
dimensions_toggled (TrammelTrainView *self)
{
  trammel_train_canvas_set_dimensions (self->canvas, gtk_toggle_button_get_active (self->dimensions));
}

static void
zoom_in_clicked (TrammelTrainView *self)
{
  trammel_train_canvas_zoom (self->canvas, ZOOM_STEP);
}

static void
zoom_out_clicked (TrammelTrainView *self)
{
  trammel_train_canvas_zoom (self->canvas, 1 / ZOOM_STEP);
}

static void
fit_clicked (TrammelTrainView *self)
{
  trammel_train_canvas_fit (self->canvas);
}

static GBytes *
picture_bytes (TrammelTrainView *self, TrammelPictureFormat format, GError **error)
{
  TrammelTrainDrawing *drawing;
  TrammelTrainPicture picture;
  if (!trammel_train_canvas_picture (self->canvas, &drawing, &picture))
    return NULL;
  return trammel_train_export (drawing, &picture, format, error);
}

/* As points and as lines, so that whatever it is pasted into takes the better one that it can. */
static void
copy_picture (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TrammelTrainView *self = TRAMMEL_TRAIN_VIEW (widget);
  g_autoptr (GBytes) points = picture_bytes (self, TRAMMEL_PICTURE_PNG, NULL);
  g_autoptr (GBytes) lines = picture_bytes (self, TRAMMEL_PICTURE_SVG, NULL);
  if (!points || !lines)
    return;
  GdkContentProvider *both[] = { gdk_content_provider_new_for_bytes ("image/svg+xml", lines),
                                 gdk_content_provider_new_for_bytes ("image/png", points) };
  g_autoptr (GdkContentProvider) content = gdk_content_provider_new_union (both, G_N_ELEMENTS (both));
  gdk_clipboard_set_content (gtk_widget_get_clipboard (widget), content);
  gtk_widget_activate_action (widget, "win.say", "s", _ ("Copied."));
}

static void
file_chosen (GFile *file, gpointer data)
{
  TrammelTrainView *self = data;
  g_autoptr (GError) error = NULL;
  g_autofree char *path = file ? g_file_get_path (file) : NULL;
  if (!path)
    return;

  /* A name with another known suffix means that. */
  TrammelPictureFormat format = self->format;
  trammel_picture_format_of_name (path, &format, NULL);
  g_autoptr (GBytes) bytes = picture_bytes (self, format, &error);
  if (!bytes)
    {
      if (error)
        gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
      return;
    }
  if (!trammel_store_write_text (path, g_bytes_get_data (bytes, NULL), g_bytes_get_size (bytes), &error))
    {
      gtk_widget_activate_action (GTK_WIDGET (self), "win.complain", "s", error->message);
      return;
    }
  g_autofree char *said = g_strdup_printf (_ ("Written to %s."), path);
  gtk_widget_activate_action (GTK_WIDGET (self), "win.say", "s", said);
}

static void
save_picture (GtkWidget *widget, const char *action, GVariant *parameter)
{
  TrammelTrainView *self = TRAMMEL_TRAIN_VIEW (widget);
  const char *suffix = g_variant_get_string (parameter, NULL);
  /* Translators: suggested name of a file, with the letter of the axis and the suffix. */
  g_autofree char *name = g_strdup_printf (_ ("train %c.%s"), self->letter ? self->letter : '0', suffix);
  if (!trammel_picture_format_of_name (name, &self->format, NULL))
    return;
  trammel_file_chooser_save (GTK_WINDOW (gtk_widget_get_root (widget)), _ ("Save the drawing"), TRAMMEL_FILES_ANY, name,
                             self->file, file_chosen, self);
}

static void
trammel_train_view_dispose (GObject *object)
{
  TrammelTrainView *self = TRAMMEL_TRAIN_VIEW (object);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_object (&self->file);
  G_OBJECT_CLASS (trammel_train_view_parent_class)->dispose (object);
}

static void
trammel_train_view_class_init (TrammelTrainViewClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);
  g_type_ensure (TRAMMEL_TYPE_TRAIN_CANVAS);

  G_OBJECT_CLASS (klass)->dispose = trammel_train_view_dispose;
  signals[PART_SELECTED] = g_signal_new ("part-selected", TRAMMEL_TYPE_TRAIN_VIEW, G_SIGNAL_RUN_LAST, 0, NULL, NULL,
                                         NULL, G_TYPE_NONE, 1, G_TYPE_INT);
  gtk_widget_class_install_action (widget_class, "picture.copy", NULL, copy_picture);
  gtk_widget_class_install_action (widget_class, "picture.save", "s", save_picture);
  gtk_widget_class_add_binding_action (widget_class, GDK_KEY_c, GDK_CONTROL_MASK, "picture.copy", NULL);
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/train-view.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelTrainView, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrainView, canvas);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrainView, play);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrainView, speed);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrainView, turned);
  gtk_widget_class_bind_template_child (widget_class, TrammelTrainView, dimensions);
  gtk_widget_class_bind_template_callback (widget_class, part_selected);
  gtk_widget_class_bind_template_callback (widget_class, show_turned);
  gtk_widget_class_bind_template_callback (widget_class, play_toggled);
  gtk_widget_class_bind_template_callback (widget_class, playing_changed);
  gtk_widget_class_bind_template_callback (widget_class, speed_chosen);
  gtk_widget_class_bind_template_callback (widget_class, dimensions_toggled);
  gtk_widget_class_bind_template_callback (widget_class, zoom_in_clicked);
  gtk_widget_class_bind_template_callback (widget_class, zoom_out_clicked);
  gtk_widget_class_bind_template_callback (widget_class, fit_clicked);
}

static void
trammel_train_view_init (TrammelTrainView *self)
{
  self->travel_per_turn = NAN;
  self->unit = trammel_unit_base (TRAMMEL_DIMENSION_LENGTH);
  gtk_widget_init_template (GTK_WIDGET (self));
}
