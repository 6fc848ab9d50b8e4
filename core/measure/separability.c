/* SPDX-License-Identifier: GPL-3.0-or-later */
/* Unknowns that the readings cannot tell apart, in words. */
#include "measure/fit-private.h"

#include <glib/gi18n-lib.h>
#include <string.h>

#include "base/error.h"

/* How much a column must take part in what cannot be told apart to be named. */
#define NOTABLE 0.01

static const TrammelParameter *
involved_parameter (const TrammelFit *fit, guint column)
{
  if (!(fit->involved[column] > NOTABLE))
    return NULL;
  return &fit->unknowns.parameters[fit->parameter_of_column[column]];
}

static gboolean
involves (const TrammelFit *fit, TrammelParameterKind kind)
{
  for (guint column = 0; column < fit->n_columns; column++)
    {
      const TrammelParameter *parameter = involved_parameter (fit, column);
      if (parameter != NULL && parameter->kind == kind)
        return TRUE;
    }
  return FALSE;
}

char *
trammel_letters_in_words (const char *letters)
{
  GString *words = g_string_new (NULL);

  for (const char *letter = letters; *letter != '\0'; letter++)
    {
      if (letter != letters)
        /* Translators: the first stands between the last two axes of a list, the second between the others */
        g_string_append (words, letter[1] == '\0' ? _ (" and ") : _ (", "));
      g_string_append_c (words, *letter);
    }
  return g_string_free (words, FALSE);
}

/* "X and Y": the axes of the involved unknowns of @kind. */
static char *
involved_axes (const TrammelFit *fit, TrammelParameterKind kind)
{
  g_autoptr (GString) axes = g_string_new (NULL);

  for (guint column = fit->n_columns; column-- > 0;)
    {
      const TrammelParameter *parameter = involved_parameter (fit, column);
      if (parameter == NULL || parameter->kind != kind)
        continue;
      for (int i = 0; i < 2 && parameter->axes[i] != '\0'; i++)
        if (strchr (axes->str, parameter->axes[i]) == NULL)
          g_string_append_c (axes, parameter->axes[i]);
    }
  return trammel_letters_in_words (axes->str);
}

/* A dozen names at most. */
static char *
involved_names (const TrammelFit *fit)
{
  GString *names = g_string_new (NULL);
  int n = 0;

  for (guint column = fit->n_columns; column-- > 0;)
    {
      const TrammelParameter *parameter = involved_parameter (fit, column);
      if (parameter == NULL)
        continue;
      if (n++ == 12)
        {
          g_string_append (names, ", …");
          break;
        }
      g_string_append_printf (names, "%s%s", names->len > 0 ? ", " : "", parameter->name);
    }
  return g_string_free (names, FALSE);
}

static void
append_advice (GString *advice, const char *text)
{
  if (advice->len > 0)
    /* Translators: stands between two pieces of advice */
    g_string_append (advice, _ ("; and "));
  g_string_append (advice, text);
}

/* What would tell the involved unknowns apart. */
static char *
advice_for (const TrammelFit *fit)
{
  GString *advice = g_string_new (NULL);
  g_autofree char *scales = involved_axes (fit, TRAMMEL_PARAMETER_SCALE);
  gboolean scale = *scales != '\0';

  if (involves (fit, TRAMMEL_PARAMETER_DATUM) && scale)
    {
      g_autofree char *text = g_strdup_printf (_ ("positions at two or more places along %s"), scales);
      append_advice (advice, text);
    }
  if (involves (fit, TRAMMEL_PARAMETER_LASH))
    {
      g_autofree char *axes = involved_axes (fit, TRAMMEL_PARAMETER_LASH);
      g_autofree char *text
          = g_strdup_printf (_ ("readings along %s approached from both sides, or not after a reversal"), axes);
      append_advice (advice, text);
    }
  if (involves (fit, TRAMMEL_PARAMETER_SKEW))
    {
      g_autofree char *axes = involved_axes (fit, TRAMMEL_PARAMETER_SKEW);
      g_autofree char *text = g_strdup_printf (_ ("readings along each of %s and along both diagonals"), axes);
      append_advice (advice, text);
    }
  if (involves (fit, TRAMMEL_PARAMETER_BEAD))
    append_advice (advice, _ ("both an outside and an inside size along one axis"));
  if (involves (fit, TRAMMEL_PARAMETER_FOOT))
    append_advice (advice, _ ("two quite different heights"));
  if (involves (fit, TRAMMEL_PARAMETER_SHRINK) && scale)
    {
      g_autofree char *text = g_strdup_printf (_ ("a travel (which no print shrinks) along %s"), scales);
      append_advice (advice, text);
    }
  if (advice->len == 0)
    append_advice (advice, _ ("readings at other places"));
  return g_string_free (advice, FALSE);
}

void
trammel_fit_set_unseparable (const TrammelFit *fit, int n_null, GError **error)
{
  if (n_null < 0)
    {
      g_set_error_literal (error, TRAMMEL_ERROR, TRAMMEL_ERROR_DATA,
                           _ ("the readings are too far from each other in size to be fitted together"));
      return;
    }

  g_autofree char *names = involved_names (fit);
  g_autofree char *advice = advice_for (fit);
  gboolean statable = involves (fit, TRAMMEL_PARAMETER_SHRINK) || involves (fit, TRAMMEL_PARAMETER_BEAD)
                      || involves (fit, TRAMMEL_PARAMETER_FOOT) || involves (fit, TRAMMEL_PARAMETER_LASH)
                      || involves (fit, TRAMMEL_PARAMETER_SKEW);

  if (statable)
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_UNSEPARABLE,
                 _ ("the readings cannot tell %s apart; wanted are %s; or a stated value for one of them"), names,
                 advice);
  else
    g_set_error (error, TRAMMEL_ERROR, TRAMMEL_ERROR_UNSEPARABLE,
                 _ ("the readings cannot tell %s apart; wanted are %s"), names, advice);
}
