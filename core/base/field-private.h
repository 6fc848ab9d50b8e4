/* SPDX-License-Identifier: GPL-3.0-or-later */
#pragma once

#include "base/record.h"

G_BEGIN_DECLS

/* Inside of core/base: the value of one field of a record. */
typedef struct
{
  gboolean set;
  union
  {
    gint64 integer;
    struct
    {
      gint64 *values; /* owned */
      gsize n;
    } list;
    struct
    {
      TrammelPair *values; /* owned */
      gsize n;
    } pairs;
    struct
    {
      TrammelQuantity *values; /* owned */
      gsize n;
    } quantities;
    TrammelExact exact;
    TrammelQuantity quantity;
    gsize choice; /* index */
    gboolean flag;
    GRefString *text; /* owned */
  };
} TrammelFieldValue;

/* @text, not blank, as a value of @field within its bounds; @out is (transfer full). */
gboolean trammel_field_parse (const TrammelField *field, const char *text, const TrammelUnit *assumed,
                              TrammelFieldValue *out, GError **error);
/* (transfer full): as trammel_field_parse() reads it; @value is set. */
char *trammel_field_text (const TrammelField *field, const TrammelFieldValue *value);

gboolean trammel_field_integer_fits (const TrammelField *field, gint64 value, GError **error);
/* Not too many, each within the bounds. */
gboolean trammel_field_quantities_fit (const TrammelField *field, const TrammelQuantity *quantities, gsize n,
                                       GError **error);
/* Not too many, each within the bounds, the first of each above the one before it. */
gboolean trammel_field_pairs_fit (const TrammelField *field, const TrammelPair *pairs, gsize n, GError **error);

/* (transfer full): "a whole number from 1 to 10000", translated. */
char *trammel_field_wanted (const TrammelField *field);

void trammel_field_value_copy (const TrammelField *field, const TrammelFieldValue *from, TrammelFieldValue *to);
void trammel_field_value_clear (const TrammelField *field, TrammelFieldValue *value);
gboolean trammel_field_value_equal (const TrammelField *field, const TrammelFieldValue *a, const TrammelFieldValue *b);

G_END_DECLS
