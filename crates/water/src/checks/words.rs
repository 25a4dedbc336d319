//! Numbers in the maker's units.

use units::{Flow, Length, System, Volume};

use crate::rehearsal::Figure;

/// How numbers are written.
#[derive(Clone, Copy)]
pub(super) struct Words {
    pub(super) system: System,
}

impl Words {
    /// A length given in m.
    pub(super) fn length(self, m: f64) -> String {
        Length::mm(m * 1e3).show(self.system)
    }

    /// A length with its band: `206.3 mm (204.9 to 207.9)`.
    pub(super) fn band(self, figure: Figure) -> String {
        let bare = |m: f64| {
            let text = self.length(m);
            text.split(' ').next().unwrap_or_default().to_owned()
        };
        format!("{} ({} to {})", self.length(figure.mid), bare(figure.low), bare(figure.high))
    }

    /// A flow given in m³/s.
    pub(super) fn flow(self, m3_s: f64) -> String {
        Flow::l_per_h(m3_s * 3.6e6).show(self.system)
    }

    /// A volume given in L.
    pub(super) fn litres(self, l: f64) -> String {
        Volume::l(l).show(self.system)
    }

    /// A speed given in m/s.
    pub(super) fn speed(self, m_s: f64) -> String {
        match self.system {
            System::Metric if m_s < 1.0 => format!("{:.0} mm/s", m_s * 1e3),
            System::Metric => format!("{m_s:.1} m/s"),
            System::UsCustomary => format!("{:.1} ft/s", m_s / 0.3048),
        }
    }

    /// A time given in s.
    pub(super) fn time(self, s: f64) -> String {
        match s {
            s if s < 120.0 => format!("{s:.0} s"),
            s if s < 7200.0 => format!("{:.0} min", s / 60.0),
            s if s < 172_800.0 => format!("{:.1} h", s / 3600.0),
            s => format!("{:.1} days", s / 86_400.0),
        }
    }
}

/// A share as per cent.
pub(super) fn percent(share: f64) -> String {
    format!("{:.0} %", share * 100.0)
}
