//! How long the processor was busy for us: on a machine that others use too, the time that is left when they rest.

/// By all our threads since we began, s; `None` where the system does not tell it so.
///
/// Fields 14 and 15 of `/proc/self/stat`, in hundredths of a second: proc(5), and `USER_HZ` of Linux on common machines.
pub(super) fn busy_s() -> Option<f64> {
    let told = std::fs::read_to_string("/proc/self/stat").ok()?;
    // The name in parentheses may hold blanks; the field after it is the third.
    let (_, after) = told.rsplit_once(')')?;
    let mut fields = after.split_whitespace().skip(11);
    let mut next = || fields.next()?.parse::<f64>().ok();
    Some((next()? + next()?) / 100.0)
}

#[cfg(all(test, target_os = "linux"))]
mod tests {
    use super::*;
    use std::time::{Duration, Instant};

    #[test]
    fn work_is_counted() {
        let begin = busy_s().expect("it is told");
        let start = Instant::now();
        let spent = || busy_s().expect("it is told") - begin;
        // A machine that is busy with others gives us little; it is waited for.
        while spent() < 0.05 && start.elapsed() < Duration::from_secs(60) {
            std::hint::spin_loop();
        }
        let (spent, elapsed) = (spent(), start.elapsed().as_secs_f64());
        assert!(0.05 <= spent, "{spent} s");
        // Other tests work beside it in the same process, at most on every core.
        let cores = std::fs::read_to_string("/proc/cpuinfo").expect("it is told");
        let cores = f64::from(u32::try_from(cores.matches("processor").count()).expect("few"));
        assert!(spent <= cores * elapsed + 1.0, "{spent} s in {elapsed} s on {cores} cores");
    }
}
