//! The speed of the chuck against time: straight ramps and plateaus.

/// One straight piece of the speed program.
#[derive(Clone, Copy, Debug, PartialEq)]
pub struct SpeedPiece {
    /// Start in s after the motor starts.
    pub start_s: f64,
    /// End in s.
    pub end_s: f64,
    /// Speed at the start in rpm.
    pub start_rpm: f64,
    /// Speed at the end in rpm.
    pub end_rpm: f64,
}

impl SpeedPiece {
    /// The speed in rpm at a time inside the piece.
    #[must_use]
    pub fn speed_rpm(&self, time_s: f64) -> f64 {
        let length_s = self.end_s - self.start_s;
        if length_s <= 0.0 {
            return self.end_rpm;
        }
        let part = ((time_s - self.start_s) / length_s).clamp(0.0, 1.0);
        self.start_rpm + part * (self.end_rpm - self.start_rpm)
    }
}

/// The chuck's speed from rest to the end of the spin.
#[derive(Clone, Debug, Default, PartialEq)]
pub struct SpeedProgram {
    /// Pieces without gaps, the first starting at 0 s.
    pub pieces: Vec<SpeedPiece>,
}

impl SpeedProgram {
    /// Adds a step: ramp to `speed_rpm` at `acceleration_rpm_s`, then hold, `time_s` in all.
    #[must_use]
    pub fn then(mut self, speed_rpm: f64, acceleration_rpm_s: f64, time_s: f64) -> Self {
        let start_s = self.end_s();
        let start_rpm = self.pieces.last().map_or(0.0, |piece| piece.end_rpm);
        let change_rpm = speed_rpm - start_rpm;
        let ramp_s = change_rpm.abs() / acceleration_rpm_s;
        if time_s <= ramp_s {
            let end_rpm = start_rpm + change_rpm * (time_s / ramp_s);
            self.pieces.push(SpeedPiece {
                start_s,
                end_s: start_s + time_s,
                start_rpm,
                end_rpm,
            });
            return self;
        }
        let (top_s, end_s) = (start_s + ramp_s, start_s + time_s);
        if start_s < top_s {
            self.pieces.push(SpeedPiece {
                start_s,
                end_s: top_s,
                start_rpm,
                end_rpm: speed_rpm,
            });
        }
        self.pieces.push(SpeedPiece {
            start_s: top_s,
            end_s,
            start_rpm: speed_rpm,
            end_rpm: speed_rpm,
        });
        self
    }

    /// The end of the spin in s.
    #[must_use]
    pub fn end_s(&self) -> f64 {
        self.pieces.last().map_or(0.0, |piece| piece.end_s)
    }

    /// The speed in rpm at any time; after the end, the last speed.
    #[must_use]
    pub fn speed_rpm(&self, time_s: f64) -> f64 {
        let idx = self.pieces.partition_point(|piece| piece.end_s < time_s);
        self.pieces
            .get(idx)
            .or(self.pieces.last())
            .map_or(0.0, |piece| piece.speed_rpm(time_s))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_spread_step_ramps_holds_and_ramps_again() {
        let program =
            SpeedProgram::default().then(500.0, 5000.0, 3.0).then(4000.0, 5000.0, 60.0);
        let cases = [
            (0.0, 0.0),
            (0.05, 250.0),
            (0.1, 500.0),
            (2.0, 500.0),
            (3.2, 1500.0),
            (3.7, 4000.0),
            (63.0, 4000.0),
            (99.0, 4000.0),
        ];
        for (time_s, rpm) in cases {
            assert!((program.speed_rpm(time_s) - rpm).abs() < 1e-6, "at {time_s} s");
        }
        assert!((program.end_s() - 63.0).abs() < 1e-12);
    }

    #[test]
    fn a_short_step_ends_below_its_speed() {
        let program = SpeedProgram::default().then(4000.0, 500.0, 2.0);
        assert_eq!(program.pieces.len(), 1);
        assert!((program.speed_rpm(2.0) - 1000.0).abs() < 1e-9);
    }
}
