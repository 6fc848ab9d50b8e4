/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "machine/table.h"

#include <gio/gio.h>
#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"
#include "machine/csv-scanner.h"
#include "tables-resources.h"

#define FOLDER "/org/trammel_bench/tables/"
#define N_COLUMNS 4

struct _TrammelTable
{
  TrammelRecordKind kind; /* its type is the key; its one field is the value */
  TrammelTableRow *rows;  /* live as long as the program */
  gsize n_rows;
};

/* clang-format off */
#define VALUE .key = "value", .label = N_ ("Value"), .meaning = ""

static const TrammelField pitch = { VALUE, .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_PITCH,
                                    .low = 0, .above_low = TRUE, .high = 1000 };
static const TrammelField module = { VALUE, .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_MODULE,
                                     .low = 0, .above_low = TRUE, .high = 1000 };
static const TrammelField whole = { VALUE, .type = TRAMMEL_FIELD_INTEGER, .low = 1, .high = 100000 };
static const TrammelField angle = { VALUE, .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_ANGLE,
                                    .low = 0, .high = G_PI_2 };
static const TrammelField friction = { VALUE, .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_NUMBER,
                                       .low = 0, .high = 2 };
static const TrammelField efficiency = { VALUE, .type = TRAMMEL_FIELD_QUANTITY,
                                         .dimension = TRAMMEL_DIMENSION_NUMBER,
                                         .low = 0, .above_low = TRUE, .high = 1 };
static const TrammelField density = { VALUE, .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_DENSITY,
                                      .low = 0, .above_low = TRUE, .high = 100000 };
static const TrammelField modulus = { VALUE, .type = TRAMMEL_FIELD_QUANTITY, .dimension = TRAMMEL_DIMENSION_STRESS,
                                      .low = 0, .above_low = TRUE, .high = 1e7 };
static const TrammelField expansion = { VALUE, .type = TRAMMEL_FIELD_QUANTITY,
                                        .dimension = TRAMMEL_DIMENSION_NUMBER, .low = -1e-3, .high = 1e-2 };

static TrammelTable tables[] = {
  { { .type = "thread-pitch",   .label = N_ ("Thread pitches"),         .fields = &pitch,      .n_fields = 1 } },
  { { .type = "module",         .label = N_ ("Modules"),                .fields = &module,     .n_fields = 1 } },
  { { .type = "belt-pitch",     .label = N_ ("Belt pitches"),           .fields = &pitch,      .n_fields = 1 } },
  { { .type = "chain-pitch",    .label = N_ ("Chain pitches"),          .fields = &pitch,      .n_fields = 1 } },
  { { .type = "full-steps",     .label = N_ ("Full steps in a turn"),   .fields = &whole,      .n_fields = 1 } },
  { { .type = "microsteps",     .label = N_ ("Microsteps"),             .fields = &whole,      .n_fields = 1 } },
  { { .type = "pressure-angle", .label = N_ ("Pressure angles"),        .fields = &angle,      .n_fields = 1 } },
  { { .type = "thread-angle",   .label = N_ ("Half angles of threads"), .fields = &angle,      .n_fields = 1 } },
  { { .type = "friction",       .label = N_ ("Friction of screws"),     .fields = &friction,   .n_fields = 1 } },
  { { .type = "efficiency",     .label = N_ ("Efficiencies"),           .fields = &efficiency, .n_fields = 1 } },
  { { .type = "density",        .label = N_ ("Densities"),              .fields = &density,    .n_fields = 1 } },
  { { .type = "modulus",        .label = N_ ("Young's moduli"),         .fields = &modulus,    .n_fields = 1 } },
  { { .type = "expansion",      .label = N_ ("Thermal expansion"),      .fields = &expansion,  .n_fields = 1 } },
};
/* clang-format on */

/* --- reading --- */

static char *
field_text (const TrammelCsvField *field)
{
  return g_strndup (field->text, field->length);
}

static gboolean
read_marking (const TrammelCsvField *field, TrammelMarking *out)
{
  static const char *const markings[] = { "", "from memory", "common practice" };

  for (gsize i = 0; i < G_N_ELEMENTS (markings); i++)
    if (field->length == strlen (markings[i]) && memcmp (field->text, markings[i], field->length) == 0)
      {
        *out = (TrammelMarking)i;
        return TRUE;
      }
  return FALSE;
}

/* The files are part of the program: what a line lacks is told by the tests. */
static void
read_rows (TrammelTable *table, const char *text, gsize length)
{
  g_auto (TrammelCsvScanner) scanner;
  GArray *rows = g_array_new (FALSE, FALSE, sizeof (TrammelTableRow));

  trammel_csv_scanner_init (&scanner, text, length);
  trammel_csv_scanner_next (&scanner); /* the header line */
  while (trammel_csv_scanner_next (&scanner))
    {
      TrammelTableRow row = { 0 };

      if (scanner.problem || scanner.n_fields != N_COLUMNS || !read_marking (&scanner.fields[3], &row.marking))
        continue;
      row.name = field_text (&scanner.fields[0]);
      row.value = field_text (&scanner.fields[1]);
      row.source = field_text (&scanner.fields[2]);
      g_array_append_val (rows, row);
    }
  table->n_rows = rows->len;
  table->rows = (TrammelTableRow *)(gpointer)g_array_free (rows, FALSE);
}

static void
read_table (TrammelTable *table)
{
  g_autofree char *path = g_strconcat (FOLDER, table->kind.type, ".csv", NULL);
  g_autoptr (GBytes) bytes
      = g_resource_lookup_data (trammel_tables_get_resource (), path, G_RESOURCE_LOOKUP_FLAGS_NONE, NULL);
  const char *text;
  gsize length;

  g_return_if_fail (bytes != NULL);
  text = g_bytes_get_data (bytes, &length);
  read_rows (table, text, length);
}

static const TrammelTable *const *
all_tables (void)
{
  static const TrammelTable *all[G_N_ELEMENTS (tables)];
  static gsize read = 0;

  if (g_once_init_enter (&read))
    {
      trammel_tables_register_resource ();
      for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
        {
          read_table (&tables[i]);
          all[i] = &tables[i];
        }
      g_once_init_leave (&read, 1);
    }
  return all;
}

const TrammelTable *const *
trammel_tables (gsize *n)
{
  g_return_val_if_fail (n != NULL, NULL);

  *n = G_N_ELEMENTS (tables);
  return all_tables ();
}

const TrammelTable *
trammel_table_find (const char *key)
{
  const TrammelTable *const *all = all_tables ();

  for (gsize i = 0; i < G_N_ELEMENTS (tables); i++)
    if (g_strcmp0 (all[i]->kind.type, key) == 0)
      return all[i];
  return NULL;
}

const char *
trammel_table_key (const TrammelTable *table)
{
  g_return_val_if_fail (table != NULL, NULL);

  return table->kind.type;
}

const char *
trammel_table_label (const TrammelTable *table)
{
  g_return_val_if_fail (table != NULL, NULL);

  return _ (table->kind.label);
}

const TrammelTableRow *
trammel_table_rows (const TrammelTable *table, gsize *n)
{
  g_return_val_if_fail (table != NULL && n != NULL, NULL);

  *n = table->n_rows;
  return table->rows;
}

/* --- values --- */

static TrammelRecord *
record_of_value (const TrammelTable *table, const char *value, const TrammelUnit *assumed, GError **error)
{
  g_autoptr (TrammelRecord) blank = trammel_record_new (&table->kind);

  return trammel_record_with_text (blank, "value", value, assumed, error);
}

char *
trammel_table_check (const TrammelTable *table, const char *value, const TrammelUnit *assumed, GError **error)
{
  g_autoptr (TrammelRecord) record = NULL;
  char *text;

  g_return_val_if_fail (table != NULL && value != NULL, NULL);

  record = record_of_value (table, value, assumed, error);
  if (!record)
    return NULL;
  text = trammel_record_text (record, "value");
  if (!text)
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_PARSE, _ ("found no value; one is wanted"));
  return text;
}

double
trammel_table_row_value (const TrammelTable *table, const TrammelTableRow *row)
{
  g_autoptr (TrammelRecord) record = NULL;

  g_return_val_if_fail (table != NULL && row != NULL, 0);

  record = record_of_value (table, row->value, NULL, NULL);
  g_return_val_if_fail (record != NULL, 0);
  return trammel_record_value (record, "value");
}

gboolean
trammel_table_row_exact (const TrammelTable *table, const TrammelTableRow *row, TrammelExact *out)
{
  g_autoptr (TrammelRecord) record = NULL;

  g_return_val_if_fail (table != NULL && row != NULL && out != NULL, FALSE);

  record = record_of_value (table, row->value, NULL, NULL);
  return record && trammel_record_exact (record, "value", out, NULL);
}

/* --- for people --- */

const char *
trammel_table_row_name (const TrammelTableRow *row)
{
  g_return_val_if_fail (row != NULL, NULL);

  return row->marking == TRAMMEL_MARKING_OWN || *row->name == '\0' ? row->name : _ (row->name);
}

char *
trammel_table_row_source (const TrammelTableRow *row)
{
  const char *source;

  g_return_val_if_fail (row != NULL, NULL);

  source = row->marking == TRAMMEL_MARKING_OWN || *row->source == '\0' ? row->source : _ (row->source);
  switch (row->marking)
    {
    case TRAMMEL_MARKING_FROM_MEMORY:
      return g_strdup_printf (_ ("%s (from memory)"), source);
    case TRAMMEL_MARKING_PRACTICE:
      return *source ? g_strdup_printf (_ ("%s (common practice)"), source)
                     : g_strdup (_ ("common practice, no source"));
    case TRAMMEL_MARKING_OWN:
      return *source ? g_strdup_printf (_ ("own: %s"), source) : g_strdup (_ ("own"));
    case TRAMMEL_MARKING_NONE:
    default:
      return g_strdup (source);
    }
}

/* In one case, without blanks and commas, with a decimal point and with an x for ×. With @starts, the places where a
 * word begins are noted. */
static char *
fold (const char *text, GArray *starts)
{
  g_autofree char *small = g_utf8_casefold (text, -1);
  GString *folded = g_string_new (NULL);
  gboolean after_blank = FALSE;

  for (const char *p = small; *p; p = g_utf8_next_char (p))
    {
      gunichar c = g_utf8_get_char (p);

      if (g_unichar_isspace (c))
        {
          after_blank = TRUE;
          continue;
        }
      if (after_blank && starts)
        g_array_append_val (starts, folded->len);
      after_blank = FALSE;
      if (c != ',')
        g_string_append_unichar (folded, c == 0x00D7 ? 'x' : c);
      else if (g_ascii_isdigit (p[1]))
        g_string_append_c (folded, '.');
    }
  return g_string_free (folded, FALSE);
}

static int
rank_of_name (const char *name, const char *wanted)
{
  g_autoptr (GArray) starts = g_array_new (FALSE, FALSE, sizeof (gsize));
  g_autofree char *folded = fold (name, starts);

  if (strcmp (folded, wanted) == 0)
    return 0;
  if (g_str_has_prefix (folded, wanted))
    return 1;
  for (guint i = 0; i < starts->len; i++)
    if (g_str_has_prefix (folded + g_array_index (starts, gsize, i), wanted))
      return 3;
  return -1;
}

static int
rank_of_value (const char *value, const char *wanted)
{
  g_autofree char *folded = fold (value, NULL);

  if (strcmp (folded, wanted) == 0)
    return 0;
  return g_str_has_prefix (folded, wanted) ? 2 : -1;
}

/* The better of two; −1 is none. */
static int
better (int a, int b)
{
  return a < 0 ? b : b < 0 ? a : MIN (a, b);
}

int
trammel_table_row_rank (const TrammelTableRow *row, const char *typed)
{
  g_autofree char *wanted = NULL;
  const char *translated;
  int rank;

  g_return_val_if_fail (row != NULL && typed != NULL, -1);

  wanted = fold (typed, NULL);
  rank = better (rank_of_name (row->name, wanted), rank_of_value (row->value, wanted));
  translated = trammel_table_row_name (row);
  return translated == row->name ? rank : better (rank, rank_of_name (translated, wanted));
}
