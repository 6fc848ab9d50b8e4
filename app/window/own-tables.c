/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "window/own-tables.h"

#include "base/error.h"

struct _TrammelOwnTables
{
  GObject parent_instance;

  TrammelOwnRows *rows;
  char *trouble;
};

G_DEFINE_FINAL_TYPE (TrammelOwnTables, trammel_own_tables, G_TYPE_OBJECT)

enum
{
  CHANGED,
  N_SIGNALS
};
static guint signals[N_SIGNALS];

TrammelOwnTables *
trammel_own_tables_get_default (void)
{
  static TrammelOwnTables *tables;

  if (!tables)
    tables = g_object_new (TRAMMEL_TYPE_OWN_TABLES, NULL);
  return tables;
}

const TrammelOwnRows *
trammel_own_tables_rows (TrammelOwnTables *self)
{
  g_return_val_if_fail (TRAMMEL_IS_OWN_TABLES (self), NULL);
  return self->rows;
}

const char *
trammel_own_tables_trouble (TrammelOwnTables *self)
{
  g_return_val_if_fail (TRAMMEL_IS_OWN_TABLES (self), NULL);
  return self->trouble;
}

/* (transfer full): what can be changed without harm should it fail. */
static TrammelOwnRows *
copy_of_rows (TrammelOwnTables *self)
{
  g_autofree char *text = trammel_own_rows_write (self->rows);
  return trammel_own_rows_read (text);
}

/* Takes @rows. */
static gboolean
put (TrammelOwnTables *self, TrammelOwnRows *rows, GError **error)
{
  if (!trammel_own_rows_save (rows, error))
    {
      trammel_own_rows_free (rows);
      return FALSE;
    }
  trammel_own_rows_free (self->rows);
  self->rows = rows;
  g_signal_emit (self, signals[CHANGED], 0);
  return TRUE;
}

static gboolean
is_usable (TrammelOwnTables *self, GError **error)
{
  if (!self->trouble)
    return TRUE;
  g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_STORE, self->trouble);
  return FALSE;
}

gboolean
trammel_own_tables_add (TrammelOwnTables *self, const TrammelTable *table, const char *name, const char *value,
                        const char *source, const TrammelUnit *assumed, GError **error)
{
  g_return_val_if_fail (TRAMMEL_IS_OWN_TABLES (self), FALSE);
  if (!is_usable (self, error))
    return FALSE;
  g_autoptr (TrammelOwnRows) rows = copy_of_rows (self);
  return trammel_own_rows_add (rows, table, name, value, source, assumed, error)
         && put (self, g_steal_pointer (&rows), error);
}

gboolean
trammel_own_tables_remove (TrammelOwnTables *self, gsize i, GError **error)
{
  g_return_val_if_fail (TRAMMEL_IS_OWN_TABLES (self), FALSE);
  g_return_val_if_fail (i < trammel_own_rows_count (self->rows), FALSE);
  TrammelOwnRows *rows = copy_of_rows (self);
  trammel_own_rows_remove (rows, i);
  return put (self, rows, error);
}

static void
trammel_own_tables_finalize (GObject *object)
{
  TrammelOwnTables *self = TRAMMEL_OWN_TABLES (object);
  trammel_own_rows_free (self->rows);
  g_free (self->trouble);
  G_OBJECT_CLASS (trammel_own_tables_parent_class)->finalize (object);
}

static void
trammel_own_tables_class_init (TrammelOwnTablesClass *klass)
{
  G_OBJECT_CLASS (klass)->finalize = trammel_own_tables_finalize;
  signals[CHANGED]
      = g_signal_new ("changed", TRAMMEL_TYPE_OWN_TABLES, G_SIGNAL_RUN_LAST, 0, NULL, NULL, NULL, G_TYPE_NONE, 0);
}

static void
trammel_own_tables_init (TrammelOwnTables *self)
{
  g_autoptr (GError) error = NULL;
  self->rows = trammel_own_rows_load (&error);
  if (self->rows)
    return;
  self->rows = trammel_own_rows_new ();
  self->trouble = g_strdup (error->message);
}
