//! The window: a sheet of cards at the side, the model beside it, a time line below while something plays.

mod bending;
mod cards;
mod curves;
mod dimensions;
mod help;
mod keys;
mod labels;
mod measure;
mod pane;
mod paper;
mod tell;
mod timeline;
mod toured;

use std::path::{Path, PathBuf};
use std::sync::{Arc, Mutex};
use std::time::Instant;

use eframe::glow::HasContext as _;
use eframe::{egui, glow};
use glam::dvec2;
use scene::Frame;

use crate::canvas::{Canvas, Detail};
use crate::loading::{Load, Told};
use crate::model::Model;
use crate::orbit::Side;
use crate::pace::Pace;
use crate::state::{State, rehearsal};
use crate::timescale::Timescale;
use crate::watch::Watch;
use crate::worker::{Wake, Worker};
use cards::Cards;
use measure::Measure;
pub use measure::Measuring;
use paper::Paper;
use tell::Tell;

/// How the window is opened.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// The parameter file.
    pub file: PathBuf,
    /// Whether the look is the dark one at first.
    pub is_dark: bool,
    /// What is measured and told before the window closes.
    pub measure: Option<Measuring>,
    /// What is shown is told into this file, for a program that drives the window.
    pub tell: Option<PathBuf>,
}

/// Opens the window and stays until it is closed; gives what was measured, when that was asked for.
///
/// # Errors
/// What the machine lacks, in one sentence.
pub fn run(options: &Options, loader: Arc<dyn Load>) -> Result<Option<String>, String> {
    let native = eframe::NativeOptions {
        viewport: egui::ViewportBuilder::default()
            .with_inner_size([1280.0, 800.0])
            .with_min_inner_size([480.0, 360.0]),
        // The model is drawn into a picture of its own, which has depth and smooth edges; the window needs neither.
        depth_buffer: 0,
        multisampling: 0,
        vsync: options.measure.is_none(),
        // There are no gradients in the cards.
        dithering: false,
        ..eframe::NativeOptions::default()
    };
    let measured = Arc::new(Mutex::new(None));
    let (told, wanted) = (measured.clone(), options.clone());
    let title = format!("{} – sumpwright", file_name(&options.file));
    let opened = eframe::run_native(
        &title,
        native,
        Box::new(move |creation| Ok(Box::new(App::new(creation, &wanted, loader, told)?))),
    );
    opened.map_err(|error| lacking(&error))?;
    Ok(measured.lock().ok().and_then(|mut measured| measured.take()))
}

/// In one sentence.
fn lacking(error: &eframe::Error) -> String {
    let what = match error {
        eframe::Error::AppCreation(error) => format!("cannot draw: {error}"),
        // The cause that comes with it names lines of the source, and no more than this.
        eframe::Error::Winit(_) | eframe::Error::WinitEventLoop(_) => {
            "no display was found; set DISPLAY or WAYLAND_DISPLAY to one".to_owned()
        }
        // The whole template would be told with it.
        eframe::Error::NoGlutinConfigs(_, error) => format!("{NEEDED}: {error}"),
        error => format!("{NEEDED}: {error}"),
    };
    format!("the window cannot open: {}", what.replace('\n', " "))
}

/// What the machine must have for the model to be drawn.
const NEEDED: &str = "OpenGL 3.3 or OpenGL ES 3 is needed";

/// Whether a version of OpenGL is too old: the library that draws does not ask before it fails.
fn outdated(version: &glow::Version) -> Option<String> {
    let (least, name) =
        if version.is_embedded { ((3, 0), "OpenGL ES") } else { ((3, 3), "OpenGL") };
    let (major, minor) = (version.major, version.minor);
    ((major, minor) < least).then(|| format!("{NEEDED}, and there is {name} {major}.{minor}"))
}

fn file_name(path: &Path) -> String {
    path.file_name().unwrap_or_default().to_string_lossy().into_owned()
}

/// Everything behind the window.
struct App {
    file: String,
    worker: Worker,
    /// Notices saves, or why nothing does.
    watch: Result<Watch, String>,
    model: Option<Arc<Model>>,
    state: State,
    cards: Cards,
    /// What is being done beside.
    progress: Option<&'static str>,
    /// Why the file as it is now has no model.
    refused: Vec<show::Finding>,
    paper: Paper,
    has_help: bool,
    /// What the toolkit calls the model beside the cards.
    pane_id: Option<egui::Id>,
    /// Whether the model got the keys by Tab.
    has_keys_by_tab: bool,
    canvas: Arc<Mutex<Canvas>>,
    /// What went wrong in drawing.
    trouble: Arc<Mutex<Option<String>>>,
    /// Where the model is drawn, px.
    frame: Frame,
    /// Whether the whole model has been brought into view since the window opened.
    is_framed: bool,
    /// When the model last moved.
    moved: Option<Instant>,
    /// Whether a model was taken in that no frame has shown yet.
    is_new: bool,
    /// How often frames come while it moves.
    pace: Pace,
    measure: Option<Measure>,
    /// How long words and cards took to be laid out, ms.
    worded_ms: f64,
    measured: Arc<Mutex<Option<String>>>,
    tell: Option<Tell>,
}

/// After so long without motion the model is drawn finely, s.
const SETTLED_S: f64 = 0.12;

impl App {
    fn new(
        creation: &eframe::CreationContext<'_>,
        options: &Options,
        loader: Arc<dyn Load>,
        measured: Arc<Mutex<Option<String>>>,
    ) -> Result<Self, String> {
        let gl = creation.gl.clone().ok_or("there is no OpenGL")?;
        if let Some(words) = outdated(gl.version()) {
            return Err(words);
        }
        let canvas = Canvas::new(gl).map_err(|error| error.to_string())?;
        paper::set_fonts(&creation.egui_ctx);
        let ctx = creation.egui_ctx.clone();
        let tell = options.tell.as_deref().map(|path| Tell::into(path, &ctx)).transpose()?;
        let wake: Wake = Arc::new(move || ctx.request_repaint());
        Ok(Self {
            file: file_name(&options.file),
            watch: Watch::on(&options.file, wake.clone()).map_err(|error| error.to_string()),
            worker: Worker::start(&options.file, loader, wake),
            model: None,
            state: State::default(),
            cards: Cards::default(),
            progress: None,
            refused: Vec::new(),
            paper: if options.is_dark { Paper::DARK } else { Paper::LIGHT },
            has_help: false,
            pane_id: None,
            has_keys_by_tab: false,
            canvas: Arc::new(Mutex::new(canvas)),
            trouble: Arc::default(),
            frame: Frame { min: dvec2(0.0, 0.0), max: dvec2(900.0, 700.0) },
            is_framed: false,
            moved: None,
            is_new: false,
            pace: Pace::default(),
            measure: options.measure.as_ref().map(Measure::new),
            worded_ms: 0.0,
            measured,
            tell,
        })
    }

    /// Takes in what was told beside.
    fn listen(&mut self) {
        for told in self.worker.told() {
            match told {
                Told::Progress(words) => self.progress = Some(words),
                Told::Refused(findings) => (self.refused, self.progress) = (findings, None),
                Told::Model { model, is_last } => {
                    self.refused.clear();
                    if is_last {
                        self.progress = None;
                    }
                    self.take(Arc::new(*model));
                }
            }
        }
    }

    fn take(&mut self, model: Arc<Model>) {
        self.state.carry_over(self.model.as_deref(), &model);
        if let Ok(mut canvas) = self.canvas.lock() {
            canvas.take(&model.shapes);
        }
        self.model = Some(model);
        self.is_new = true;
        // The first frame of it is drawn as while something moves, and not too finely, so that it comes soon.
        self.moved = Some(Instant::now());
        self.pace.be_coarse();
    }

    /// Loads anew when the file was saved.
    fn look_at_file(&mut self, ctx: &egui::Context) {
        let Ok(watch) = &mut self.watch else { return };
        match watch.is_saved(Instant::now()) {
            Ok(()) => {
                self.worker.again();
            }
            Err(Some(rest)) => ctx.request_repaint_after(rest),
            Err(None) => {}
        }
    }

    /// How finely to draw now.
    fn detail(&self) -> Detail {
        let is_settled = self.moved.is_none_or(|moved| SETTLED_S < moved.elapsed().as_secs_f64());
        if is_settled { Detail::Fine } else { Detail::of_grain(self.pace.grain) }
    }

    /// Notes that the model moved in this frame.
    fn note_motion(&mut self, ctx: &egui::Context) {
        let now = Instant::now();
        if let Some(last) = self.moved.replace(now) {
            self.pace.count(now.duration_since(last).as_secs_f64());
        }
        ctx.request_repaint();
    }

    /// Lets the water follow what was chosen.
    fn follow(&mut self) {
        if let Some(model) = &self.model {
            self.state.follow(model);
        }
    }

    fn bring_into_view(&mut self) {
        if let (Some(model), false) = (&self.model, self.is_framed) {
            self.state.look_from(Side::Corner.direction(), model, self.frame);
            self.is_framed = true;
        }
    }
}

impl eframe::App for App {
    /// The desk beneath the cards: cheaper than a sheet of its own over it.
    fn clear_color(&self, _: &egui::Visuals) -> [f32; 4] {
        self.paper.desk.to_normalized_gamma_f32()
    }

    fn logic(&mut self, ctx: &egui::Context, _: &mut eframe::Frame) {
        if std::mem::take(&mut self.is_new) {
            self.worker.seen();
        }
        self.listen();
        if self.is_new {
            ctx.request_repaint();
        }
        self.look_at_file(ctx);
        if let Some(play) = self.state.play.as_mut().filter(|play| play.clock.is_running) {
            let dt = ctx.input(|input| f64::from(input.stable_dt)).min(0.1);
            // A failure takes days, and most of it happens in minutes.
            let by = self.model.as_deref().and_then(|model| {
                let scale = Timescale::of(rehearsal(model, play.what)?);
                let played = scale.played(play.clock.t_s, dt, play.clock.is_backwards);
                Some(played / play.clock.speed)
            });
            play.clock.advance(by.unwrap_or(dt));
        }
        self.measure(ctx);
        if let Ok(mut canvas) = self.canvas.lock() {
            canvas.is_waiting = self.measure.as_ref().is_some_and(Measure::is_waiting);
        }
    }

    fn ui(&mut self, ui: &mut egui::Ui, _: &mut eframe::Frame) {
        let begun = Instant::now();
        self.paper.set(ui.ctx());
        self.keys(ui.ctx());
        self.follow();
        let sheet = egui::Frame::new().inner_margin(egui::Margin::same(8));
        egui::Panel::right("cards")
            .frame(sheet)
            .exact_size(320.0_f32.min(0.45 * ui.available_width()))
            .resizable(false)
            .show_separator_line(false)
            .show_inside(ui, |ui| self.cards(ui));
        // In the same frame.
        self.follow();
        if self.state.play.is_some() {
            let strip = egui::Frame::new().inner_margin(egui::Margin::same(8));
            egui::Panel::bottom("time")
                .frame(strip)
                .resizable(false)
                .show_separator_line(false)
                .show_inside(ui, |ui| self.timeline(ui));
        }
        egui::CentralPanel::default().frame(egui::Frame::NONE).show_inside(ui, |ui| self.pane(ui));
        if self.has_help {
            self.help(ui.ctx());
        }
        self.worded_ms = begun.elapsed().as_secs_f64() * 1e3;
        self.tell(ui.ctx());
    }
}
