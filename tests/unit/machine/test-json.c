/* SPDX-License-Identifier: GPL-3.0-or-later */
#include "base/error.h"
#include "machine/json-writer.h"
#include "machine/json.h"

#include <check.h>
#include <json-glib/json-glib.h>
#include <math.h>
#include <string.h>

/* RFC 8259, section by section. */
static const char *const valid[] = {
  "0",
  "-0",
  "12",
  "-1.5",
  "1e3",
  "1E+3",
  "1e-3",
  "0.0",
  "123456789012345678901234567890",
  "\"\"",
  "\"a\"",
  "\"\\\"\\\\\\/\\b\\f\\n\\r\\t\"",
  "\"\\u00e9\\ud83d\\ude00\"",
  "\"é😀\x7f\"",
  "true",
  "false",
  "null",
  "[]",
  "{}",
  "[1,[2,[3]]]",
  "{\"a\":{\"b\":[{}]}}",
  " [ 1 ,\n\t2\r] ",
  "{\"\":0,\"a\":0}",
  "\"\\u2028\"",
};
static const char *const invalid[] = {
  "",
  " ",
  "+1",
  "01",
  "-",
  "1.",
  ".5",
  "1e",
  "1e+",
  "--1",
  "0x1",
  "1_000",
  "NaN",
  "Infinity",
  "-Infinity",
  "True",
  "nulll",
  "tru",
  "'a'",
  "\"a",
  "\"\\x\"",
  "\"\\u12\"",
  "\"\\u123g\"",
  "\"\\ud800\"",
  "\"\\udc00\"",
  "\"\\ud800x\"",
  "\"\\ud800\\u0041\"",
  "\"\n\"",
  "\"\t\"",
  "[",
  "]",
  "[1",
  "[1,",
  "[1,]",
  "[,1]",
  "[1 2]",
  "[1,,2]",
  "{",
  "}",
  "{\"a\"}",
  "{\"a\":}",
  "{\"a\":1,}",
  "{a:1}",
  "{1:1}",
  "{\"a\" 1}",
  "{,}",
  "[1}",
  "{\"a\":1]",
  "1 2",
  "[] []",
  "// a\n1",
  "/* a */ 1",
  "1 // a",
  "\v1",
  "\f1",
  "#1",
  "\"\\u0000\"",
};

START_TEST (accepts)
{
  TrammelJson whole;
  g_autoptr (GError) error = NULL;
  ck_assert_msg (trammel_json_check (valid[_i], strlen (valid[_i]), &whole, &error), "%s: %s", valid[_i],
                 error ? error->message : "");
}
END_TEST

START_TEST (refuses)
{
  TrammelJson whole;
  g_autoptr (GError) error = NULL;
  ck_assert_msg (!trammel_json_check (invalid[_i], strlen (invalid[_i]), &whole, &error), "%s", invalid[_i]);
  ck_assert_ptr_nonnull (error);
  ck_assert (g_str_has_prefix (error->message, "line "));
}
END_TEST

START_TEST (nests_up_to_the_limit)
{
  for (int depth = TRAMMEL_JSON_MAX_DEPTH; depth <= TRAMMEL_JSON_MAX_DEPTH + 1; depth++)
    {
      GString *text = g_string_new (NULL);
      TrammelJson whole;
      for (int i = 0; i < depth; i++)
        g_string_append_c (text, '[');
      for (int i = 0; i < depth; i++)
        g_string_append_c (text, ']');
      ck_assert_int_eq (trammel_json_check (text->str, text->len, &whole, NULL), depth <= TRAMMEL_JSON_MAX_DEPTH);
      g_string_free (text, TRUE);
    }
}
END_TEST

/* What json-glib makes of the same text. */
static void
expect_same (TrammelJson value, JsonNode *node)
{
  if (JSON_NODE_HOLDS_OBJECT (node))
    {
      g_auto (TrammelJsonObject) object = { 0 };
      g_autofree char *twice = NULL;
      JsonObject *other = json_node_get_object (node);
      g_autoptr (GList) names = json_object_get_members (other);
      ck_assert (trammel_json_object_open (value, &object, &twice));
      ck_assert_uint_eq (object.n, json_object_get_size (other));
      for (GList *name = names; name != NULL; name = name->next)
        {
          TrammelJson member;
          ck_assert (trammel_json_object_take (&object, name->data, &member));
          expect_same (member, json_object_get_member (other, name->data));
        }
    }
  else if (JSON_NODE_HOLDS_ARRAY (node))
    {
      JsonArray *other = json_node_get_array (node);
      TrammelJsonElements elements;
      TrammelJson element;
      guint n = 0;
      trammel_json_elements (value, &elements);
      for (; trammel_json_next (&elements, &element); n++)
        expect_same (element, json_array_get_element (other, n));
      ck_assert_uint_eq (n, json_array_get_length (other));
    }
  else if (json_node_get_value_type (node) == G_TYPE_STRING)
    {
      g_autofree char *text = trammel_json_string (value);
      ck_assert_str_eq (text, json_node_get_string (node));
    }
  else if (json_node_get_value_type (node) == G_TYPE_BOOLEAN)
    ck_assert_int_eq (trammel_json_is_true (value), json_node_get_boolean (node));
  else if (json_node_get_value_type (node) == G_TYPE_INT64 || json_node_get_value_type (node) == G_TYPE_DOUBLE)
    {
      g_autofree char *text = trammel_json_scalar (value);
      ck_assert (trammel_json_is (value, TRAMMEL_JSON_NUMBER));
      ck_assert_double_eq (g_ascii_strtod (text, NULL), json_node_get_double (node));
    }
  else
    ck_assert (trammel_json_is (value, TRAMMEL_JSON_NULL));
}

START_TEST (another_reader_finds_the_same)
{
  static const char *const texts[] = {
    "{\"a\":[1,-2.5e3,\"x\\\"\\\\\\u00b5\\ud83d\\ude00\",true,false,null,{\"b\":{}},[]],"
    "\"c d\":\"\",\"\\u0065\":\"e\",\"\":[[]]}",
    " { \"a\" : [ 1 , 2 ] , \"b\" : { \"c\" : \"]}\" , \"d\" : \"{\\\"[\" } , \"e\" : 0 } ",
  };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      g_autoptr (JsonParser) parser = json_parser_new ();
      TrammelJson whole;
      ck_assert (json_parser_load_from_data (parser, texts[i], -1, NULL));
      ck_assert (trammel_json_check (texts[i], strlen (texts[i]), &whole, NULL));
      expect_same (whole, json_parser_get_root (parser));
    }
}
END_TEST

START_TEST (a_member_given_twice_is_seen)
{
  static const char *const texts[] = { "{\"a\":1,\"b\":2,\"a\":3}", "{\"a\":1,\"\\u0061\":2}" };
  for (gsize i = 0; i < G_N_ELEMENTS (texts); i++)
    {
      TrammelJsonObject object;
      TrammelJson whole;
      g_autofree char *twice = NULL;
      ck_assert (trammel_json_check (texts[i], strlen (texts[i]), &whole, NULL));
      ck_assert (!trammel_json_object_open (whole, &object, &twice));
      ck_assert_str_eq (twice, "a");
    }
}
END_TEST

START_TEST (the_rest_is_what_was_not_asked_for)
{
  static const char text[] = "{ \"a\" : 1, \"b\" : [ 1.50, \" x \" ],\n\"\\u0063\": { \"d\" : null } }";
  g_auto (TrammelJsonObject) object = { 0 };
  TrammelJson whole, value;
  g_autofree char *twice = NULL;
  ck_assert (trammel_json_check (text, strlen (text), &whole, NULL));
  ck_assert (trammel_json_object_open (whole, &object, &twice));
  ck_assert (trammel_json_object_take (&object, "a", &value));
  ck_assert (!trammel_json_object_take (&object, "A", &value));
  g_autofree char *rest = trammel_json_object_rest (&object);
  ck_assert_str_eq (rest, "{\"b\":[1.50,\" x \"],\"\\u0063\":{\"d\":null}}");
  ck_assert (trammel_json_object_take (&object, "b", &value) && trammel_json_object_take (&object, "c", &value));
  ck_assert_ptr_null (trammel_json_object_rest (&object));
}
END_TEST

START_TEST (lines_and_columns)
{
  static const struct
  {
    const char *text, *place;
  } rows[] = {
    { "[1,\n 2,\n x]", "line 3, column 2: found “x”" },     { "[1,\r\n 2 x]", "line 2, column 4: found “x”" },
    { "[\"µµ\", x]", "line 1, column 8: found “x”" },       { "[1,", "line 1, column 4: found the end of the file" },
    { "[nope-1.5]", "line 1, column 2: found “nope-1.5”" }, { "[µ]", "line 1, column 2: found “µ”" },
  };
  for (gsize i = 0; i < G_N_ELEMENTS (rows); i++)
    {
      TrammelJson whole;
      g_autoptr (GError) error = NULL;
      ck_assert (!trammel_json_check (rows[i].text, strlen (rows[i].text), &whole, &error));
      ck_assert_msg (g_str_has_prefix (error->message, rows[i].place), "%s", error->message);
    }
}
END_TEST

START_TEST (writes_for_people)
{
  TrammelJsonWriter writer;
  trammel_json_writer_init (&writer);
  trammel_json_writer_open (&writer, NULL, '{', FALSE);
  trammel_json_writer_string (&writer, "text", "a \"b\"\\\n\t\x01µ");
  trammel_json_writer_open (&writer, "list", '[', FALSE);
  trammel_json_writer_open (&writer, NULL, '{', TRUE);
  trammel_json_writer_number (&writer, "n", 0.1);
  trammel_json_writer_open (&writer, "deep", '[', FALSE);
  trammel_json_writer_integer (&writer, NULL, 5);
  trammel_json_writer_null (&writer, NULL);
  trammel_json_writer_close (&writer, ']');
  trammel_json_writer_close (&writer, '}');
  trammel_json_writer_close (&writer, ']');
  trammel_json_writer_open (&writer, "empty", '[', FALSE);
  trammel_json_writer_close (&writer, ']');
  trammel_json_writer_number (&writer, "none", INFINITY);
  trammel_json_writer_flag (&writer, "yes", TRUE);
  trammel_json_writer_members (&writer, "{\"x\":1.50,\"y\":[]}");
  trammel_json_writer_members (&writer, NULL);
  trammel_json_writer_members (&writer, "not an object");
  trammel_json_writer_close (&writer, '}');
  gsize length;
  g_autofree char *text = trammel_json_writer_finish (&writer, &length);
  ck_assert_uint_eq (length, strlen (text));
  ck_assert_str_eq (text, "{\n"
                          "  \"text\": \"a \\\"b\\\"\\\\\\n\\t\\u0001µ\",\n"
                          "  \"list\": [\n"
                          "    { \"n\": 0.1, \"deep\": [ 5, null ] }\n"
                          "  ],\n"
                          "  \"empty\": [],\n"
                          "  \"none\": null,\n"
                          "  \"yes\": true,\n"
                          "  \"x\": 1.50,\n"
                          "  \"y\": []\n"
                          "}\n");
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("json");
  TCase *tests = tcase_create ("json");
  tcase_add_loop_test (tests, accepts, 0, G_N_ELEMENTS (valid));
  tcase_add_loop_test (tests, refuses, 0, G_N_ELEMENTS (invalid));
  tcase_add_test (tests, nests_up_to_the_limit);
  tcase_add_test (tests, another_reader_finds_the_same);
  tcase_add_test (tests, a_member_given_twice_is_seen);
  tcase_add_test (tests, the_rest_is_what_was_not_asked_for);
  tcase_add_test (tests, lines_and_columns);
  tcase_add_test (tests, writes_for_people);
  suite_add_tcase (suite, tests);
  SRunner *runner = srunner_create (suite);
  srunner_run_all (runner, CK_ENV);
  const int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
