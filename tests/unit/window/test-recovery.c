/* SPDX-License-Identifier: GPL-3.0-or-later */
#include <check.h>
#include <glib/gstdio.h>
#include <signal.h>
#include <sys/wait.h>
#include <unistd.h>

#include "window/recovery.h"

static char *folder;

/* Every test runs in a process of its own, so that the state folder is read from the environment anew. */
static void
start (void)
{
  folder = g_dir_make_tmp ("trammel-recovery-XXXXXX", NULL);
  g_setenv ("XDG_STATE_HOME", folder, TRUE);
}

static void
end (void)
{
  g_autofree char *place = g_build_filename (folder, "trammel", "recovery", NULL);
  g_autofree char *above = g_build_filename (folder, "trammel", NULL);
  g_autoptr (GDir) dir = g_dir_open (place, 0, NULL);
  const char *name;
  while (dir && (name = g_dir_read_name (dir)))
    {
      g_autofree char *path = g_build_filename (place, name, NULL);
      g_unlink (path);
    }
  g_rmdir (place);
  g_rmdir (above);
  g_rmdir (folder);
  g_free (folder);
}

static TrammelMachine *
machine_named (const char *name)
{
  g_autoptr (TrammelMachine) empty = trammel_machine_new ();
  return trammel_machine_with_name (empty, name);
}

/* A process that writes its work and is killed before it can clear up. */
static void
write_and_be_killed (const char *name, const char *path)
{
  int status;
  pid_t child = fork ();
  if (child == 0)
    {
      TrammelRecovery *recovery = trammel_recovery_new (NULL);
      g_autoptr (TrammelMachine) machine = machine_named (name);
      if (recovery && trammel_recovery_write (recovery, machine, path, NULL))
        kill (getpid (), SIGKILL);
      _exit (1);
    }
  waitpid (child, &status, 0);
  ck_assert (WIFSIGNALED (status) && WTERMSIG (status) == SIGKILL);
}

START_TEST (work_of_a_killed_process_is_found)
{
  g_autofree char *path = NULL;
  write_and_be_killed ("Heron", "/somewhere/heron.trammel");
  g_autoptr (TrammelRecovery) found = trammel_recovery_find_leftover ();
  ck_assert_ptr_nonnull (found);
  g_autoptr (TrammelMachine) machine = trammel_recovery_read (found, &path, NULL);
  ck_assert_str_eq (trammel_machine_name (machine), "Heron");
  ck_assert_str_eq (path, "/somewhere/heron.trammel");
  g_autoptr (GDateTime) time = trammel_recovery_time (found);
  g_autoptr (GDateTime) now = g_date_time_new_now_local ();
  ck_assert (ABS (g_date_time_difference (now, time)) < 60 * G_TIME_SPAN_SECOND);
}
END_TEST

START_TEST (work_without_a_file_has_no_path)
{
  char *path = (char *)"left as it was";
  write_and_be_killed ("Heron", NULL);
  g_autoptr (TrammelRecovery) found = trammel_recovery_find_leftover ();
  g_autoptr (TrammelMachine) machine = trammel_recovery_read (found, &path, NULL);
  ck_assert_ptr_nonnull (machine);
  ck_assert_ptr_null (path);
}
END_TEST

START_TEST (place_that_is_held_is_not_offered)
{
  g_autoptr (TrammelMachine) machine = machine_named ("Heron");
  g_autoptr (TrammelRecovery) own = trammel_recovery_new (NULL);
  ck_assert (trammel_recovery_write (own, machine, NULL, NULL));
  ck_assert_ptr_null (trammel_recovery_find_leftover ());
}
END_TEST

START_TEST (found_work_is_offered_once)
{
  write_and_be_killed ("Heron", NULL);
  TrammelRecovery *found = trammel_recovery_find_leftover ();
  ck_assert_ptr_null (trammel_recovery_find_leftover ());
  trammel_recovery_free (found);
  found = trammel_recovery_find_leftover ();
  ck_assert_ptr_nonnull (found);
  trammel_recovery_remove (found);
  ck_assert_ptr_null (trammel_recovery_find_leftover ());
}
END_TEST

START_TEST (places_do_not_collide)
{
  g_autofree char *path = NULL;
  g_autoptr (TrammelMachine) a = machine_named ("a");
  g_autoptr (TrammelMachine) b = machine_named ("b");
  g_autoptr (TrammelRecovery) first = trammel_recovery_new (NULL);
  g_autoptr (TrammelRecovery) second = trammel_recovery_new (NULL);
  ck_assert (trammel_recovery_write (first, a, NULL, NULL));
  ck_assert (trammel_recovery_write (second, b, "/b.trammel", NULL));
  ck_assert (trammel_recovery_write (second, b, NULL, NULL));
  g_autoptr (TrammelMachine) read = trammel_recovery_read (first, &path, NULL);
  ck_assert_str_eq (trammel_machine_name (read), "a");
  trammel_recovery_clear (first);
  g_autofree char *other = NULL;
  g_autoptr (TrammelMachine) rest = trammel_recovery_read (second, &other, NULL);
  ck_assert_str_eq (trammel_machine_name (rest), "b");
  ck_assert_ptr_null (other);
}
END_TEST

START_TEST (empty_place_is_cleared_away)
{
  TrammelRecovery *own = trammel_recovery_new (NULL);
  trammel_recovery_free (own);
  ck_assert_ptr_null (trammel_recovery_find_leftover ());
  g_autofree char *place = g_build_filename (folder, "trammel", "recovery", NULL);
  g_autoptr (GDir) dir = g_dir_open (place, 0, NULL);
  ck_assert_ptr_null (g_dir_read_name (dir));
}
END_TEST

START_TEST (folder_that_cannot_be_made_is_an_error)
{
  g_autoptr (GError) error = NULL;
  g_autofree char *in_the_way = g_build_filename (folder, "trammel", NULL);
  ck_assert (g_file_set_contents (in_the_way, "", 0, NULL));
  ck_assert_ptr_null (trammel_recovery_new (&error));
  ck_assert_ptr_nonnull (error);
  g_unlink (in_the_way);
}
END_TEST

int
main (void)
{
  Suite *suite = suite_create ("recovery");
  TCase *tests = tcase_create ("recovery");
  tcase_add_checked_fixture (tests, start, end);
  tcase_add_test (tests, work_of_a_killed_process_is_found);
  tcase_add_test (tests, work_without_a_file_has_no_path);
  tcase_add_test (tests, place_that_is_held_is_not_offered);
  tcase_add_test (tests, found_work_is_offered_once);
  tcase_add_test (tests, places_do_not_collide);
  tcase_add_test (tests, empty_place_is_cleared_away);
  tcase_add_test (tests, folder_that_cannot_be_made_is_an_error);
  suite_add_tcase (suite, tests);

  SRunner *runner = srunner_create (suite);
  srunner_set_fork_status (runner, CK_FORK);
  srunner_run_all (runner, CK_ENV);
  int failed = srunner_ntests_failed (runner);
  srunner_free (runner);
  return failed ? 1 : 0;
}
