package postgres

import "time"

// WaitForIntake makes the wait for other intakes as short as a test needs it.
func (s *Store) WaitForIntake(wait time.Duration) { s.intakeWait = wait }
