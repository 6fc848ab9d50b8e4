/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/stated-editor.h"

#include <glib/gi18n.h>
#include <math.h>

#include "window/parameter-text.h"
#include "window/rewrite.h"

struct _TrammelStatedEditor
{
  GtkWidget parent_instance;

  TrammelSession *session;
  char *name;
  char *words; /* the unknown, for people */

  GtkWidget *root;
  GtkEditable *value;
  GtkEditable *u;
  GtkLabel *trouble;
};

G_DEFINE_FINAL_TYPE (TrammelStatedEditor, trammel_stated_editor, GTK_TYPE_WIDGET)

static const TrammelStated *
explicit_statement (TrammelStatedEditor *self)
{
  gsize n;
  const TrammelStated *stated = trammel_machine_stated (trammel_session_machine (self->session), &n);
  for (gsize i = 0; i < n; i++)
    if (g_str_equal (stated[i].name, self->name))
      return &stated[i];
  return NULL;
}

static gboolean
default_statement (TrammelStatedEditor *self, double *value, double *u)
{
  TrammelParameterKind kind;
  char axes[2];

  *value = *u = NAN;
  return trammel_session_scatter (self->session) == TRAMMEL_SCATTER_STATED
         && trammel_parameter_parse (self->name, &kind, axes, NULL, NULL) && trammel_stated_default (kind, value, u);
}

static void
set_trouble (TrammelStatedEditor *self, GtkEditable *entry, const char *reason)
{
  GtkEditable *entries[] = { self->value, self->u };

  for (guint i = 0; i < G_N_ELEMENTS (entries); i++)
    trammel_rewrite_refused (GTK_WIDGET (entries[i]), entries[i] == entry);
  trammel_rewrite_label (self->trouble, reason);
  gtk_widget_set_visible (GTK_WIDGET (self->trouble), reason != NULL);
}

static char *
entry_text (TrammelStatedEditor *self, double amount)
{
  return trammel_parameter_amount_text (trammel_session_machine (self->session), self->name, amount);
}

static void
set_entry (TrammelStatedEditor *self, GtkEditable *entry, gboolean explicit, double amount, double by_default)
{
  g_autofree char *text = explicit ? entry_text (self, amount) : g_strdup ("");
  g_autofree char *placeholder = isnan (by_default) ? g_strdup (_ ("none")) : entry_text (self, by_default);

  trammel_rewrite_placeholder (GTK_ENTRY (entry), placeholder);
  if (g_strcmp0 (gtk_editable_get_text (entry), text) != 0)
    gtk_editable_set_text (entry, text);
}

static void
put_back (TrammelStatedEditor *self)
{
  const TrammelStated *stated = explicit_statement (self);
  double value, u;

  default_statement (self, &value, &u);
  set_entry (self, self->value, stated != NULL, stated ? stated->value : NAN, value);
  set_entry (self, self->u, stated != NULL, stated ? stated->u : NAN, u);
  set_trouble (self, NULL, NULL);
}

static gboolean
has_focus_inside (GtkWidget *widget)
{
  return (gtk_widget_get_state_flags (widget) & GTK_STATE_FLAG_FOCUS_WITHIN) != 0;
}

void
trammel_stated_editor_update (TrammelStatedEditor *self)
{
  g_return_if_fail (TRAMMEL_IS_STATED_EDITOR (self));
  /* What cannot be read, and what is being typed, stays. */
  if (gtk_widget_get_visible (GTK_WIDGET (self->trouble)) || has_focus_inside (GTK_WIDGET (self)))
    return;
  put_back (self);
}

static gboolean
is_blank (GtkEditable *entry)
{
  g_autofree char *text = g_strstrip (g_strdup (gtk_editable_get_text (entry)));
  return *text == '\0';
}

/* The amount in @entry, or @by_default where it is blank. */
static gboolean
read_entry (TrammelStatedEditor *self, GtkEditable *entry, double by_default, double *out)
{
  g_autoptr (GError) error = NULL;

  *out = by_default;
  if (is_blank (entry))
    {
      if (!isnan (by_default))
        return TRUE;
      set_trouble (self, entry, _ ("Give both, or neither."));
      return FALSE;
    }
  if (!trammel_parameter_parse_amount (trammel_session_machine (self->session), self->name,
                                       gtk_editable_get_text (entry), out, &error))
    {
      set_trouble (self, entry, error->message);
      return FALSE;
    }
  if (entry != self->u || *out >= 0)
    return TRUE;
  set_trouble (self, entry, _ ("An uncertainty cannot be below 0; 0 fixes the value."));
  return FALSE;
}

static void
edit (TrammelStatedEditor *self, const TrammelStated *stated)
{
  const TrammelStated *old = explicit_statement (self);
  g_autofree char *what = g_strdup_printf (_ ("state the %s"), self->words);

  set_trouble (self, NULL, NULL);
  if (!old && !stated)
    return;
  if (old && stated && old->value == stated->value && old->u == stated->u)
    return;
  trammel_session_edit (self->session,
                        trammel_machine_with_stated (trammel_session_machine (self->session), self->name, stated), what,
                        NULL);
}

/* Text as it was put there has been rounded for display and must not be read back as another value. */
static gboolean
is_as_shown (TrammelStatedEditor *self)
{
  const TrammelStated *stated = explicit_statement (self);
  if (!stated)
    return FALSE;
  g_autofree char *value = entry_text (self, stated->value), *u = entry_text (self, stated->u);
  return g_str_equal (value, gtk_editable_get_text (self->value)) && g_str_equal (u, gtk_editable_get_text (self->u));
}

static void
take_over (TrammelStatedEditor *self)
{
  double default_value, default_u;
  TrammelStated stated = { NULL, 0, 0 };

  if (!self->session)
    return;
  default_statement (self, &default_value, &default_u);
  if (is_blank (self->value) && is_blank (self->u))
    {
      edit (self, NULL);
      return;
    }
  if (is_as_shown (self))
    {
      set_trouble (self, NULL, NULL);
      return;
    }
  if (!read_entry (self, self->value, default_value, &stated.value)
      || !read_entry (self, self->u, default_u, &stated.u))
    return;
  stated.name = g_ref_string_new (self->name);
  edit (self, &stated);
  g_ref_string_release (stated.name);
}

static void
focus_left (GtkEventControllerFocus *controller, TrammelStatedEditor *self)
{
  take_over (self);
  if (!gtk_widget_get_visible (GTK_WIDGET (self->trouble)))
    put_back (self);
}

static void
activated (GtkEntry *entry, TrammelStatedEditor *self)
{
  take_over (self);
  if (!gtk_widget_get_visible (GTK_WIDGET (self->trouble)))
    put_back (self);
}

static gboolean
key_pressed (GtkEventControllerKey *controller, guint key, guint code, GdkModifierType state, TrammelStatedEditor *self)
{
  if (key != GDK_KEY_Escape)
    return FALSE;
  put_back (self);
  return TRUE;
}

static void
trammel_stated_editor_dispose (GObject *object)
{
  TrammelStatedEditor *self = TRAMMEL_STATED_EDITOR (object);
  g_clear_object (&self->session);
  g_clear_pointer (&self->root, gtk_widget_unparent);
  g_clear_pointer (&self->name, g_free);
  g_clear_pointer (&self->words, g_free);
  G_OBJECT_CLASS (trammel_stated_editor_parent_class)->dispose (object);
}

static void
trammel_stated_editor_class_init (TrammelStatedEditorClass *klass)
{
  GtkWidgetClass *widget_class = GTK_WIDGET_CLASS (klass);

  G_OBJECT_CLASS (klass)->dispose = trammel_stated_editor_dispose;
  gtk_widget_class_set_layout_manager_type (widget_class, GTK_TYPE_BIN_LAYOUT);
  gtk_widget_class_set_template_from_resource (widget_class, "/org/trammel_bench/Trammel/stated-editor.ui");
  gtk_widget_class_bind_template_child (widget_class, TrammelStatedEditor, root);
  gtk_widget_class_bind_template_child (widget_class, TrammelStatedEditor, value);
  gtk_widget_class_bind_template_child (widget_class, TrammelStatedEditor, u);
  gtk_widget_class_bind_template_child (widget_class, TrammelStatedEditor, trouble);
}

static void
trammel_stated_editor_init (TrammelStatedEditor *self)
{
  gtk_widget_init_template (GTK_WIDGET (self));

  GtkEventController *focus = gtk_event_controller_focus_new ();
  g_signal_connect (focus, "leave", G_CALLBACK (focus_left), self);
  gtk_widget_add_controller (GTK_WIDGET (self), focus);
  GtkEventController *keys = gtk_event_controller_key_new ();
  g_signal_connect (keys, "key-pressed", G_CALLBACK (key_pressed), self);
  gtk_widget_add_controller (GTK_WIDGET (self), keys);
  g_signal_connect (self->value, "activate", G_CALLBACK (activated), self);
  g_signal_connect (self->u, "activate", G_CALLBACK (activated), self);
}

GtkWidget *
trammel_stated_editor_new (TrammelSession *session, const char *name)
{
  g_return_val_if_fail (TRAMMEL_IS_SESSION (session) && name != NULL, NULL);

  TrammelStatedEditor *self = g_object_new (TRAMMEL_TYPE_STATED_EDITOR, NULL);
  self->session = g_object_ref (session);
  self->name = g_strdup (name);
  self->words = trammel_parameter_to_words (name);
  g_autofree char *value = g_strdup_printf (_ ("Stated value of %s"), self->words);
  g_autofree char *u = g_strdup_printf (_ ("Standard uncertainty of the stated value of %s"), self->words);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->value), GTK_ACCESSIBLE_PROPERTY_LABEL, value, -1);
  gtk_accessible_update_property (GTK_ACCESSIBLE (self->u), GTK_ACCESSIBLE_PROPERTY_LABEL, u, -1);
  trammel_rewrite_tooltip (GTK_WIDGET (self->value), value);
  trammel_rewrite_tooltip (GTK_WIDGET (self->u), u);
  put_back (self);
  return GTK_WIDGET (self);
}
