//! One open window of the app, and what a person does with it.

use std::fs;
use std::net::{TcpListener, TcpStream};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};
use std::time::{Duration, Instant};

use thirtyfour::Capabilities;
use thirtyfour::prelude::*;

use crate::garage::Garage;
use crate::screen::Screen;

/// The longest anything on the screen may take. Long, because a busy test machine is no slow app.
const PATIENCE: Duration = Duration::from_secs(20);

/// Between two looks at the page.
const AGAIN: Duration = Duration::from_millis(20);

/// Long enough for the picture to be painted after the page says it is ready.
const PAINT: Duration = Duration::from_millis(350);

/// A touch that is not felt by then fell beside. Long, so that a late one is not made twice.
const FELT_WITHIN: Duration = Duration::from_secs(3);

/// Waits until the element keeps still: the same place and size over two frames. Then listens for the next click, and remembers whether it
/// reached this element. A frame that is not painted (a window that lies under another) counts as gone by after a while.
const STILL_AND_FEELS: &str = "const [element, done] = arguments;
    const frame = () => new Promise((next) => { requestAnimationFrame(next); setTimeout(next, 100); });
    const place = () => { const { x, y, width, height } = element.getBoundingClientRect(); return [x, y, width, height].join(); };
    const still = async () => {
        let before = '';
        for (let same = 0; same < 2; before = place()) {
            await frame();
            same = place() === before ? same + 1 : 0;
        }
        window.touchFelt = false;
        const felt = (event) => { window.touchFelt = event.composedPath().includes(element); };
        window.addEventListener('click', felt, { capture: true, once: true });
        done(0);
    };
    void still();";

pub(crate) const PHONE: (u32, u32) = (390, 844);
pub(crate) const LAPTOP: (u32, u32) = (1280, 800);

/// An open window.
pub(crate) struct Window {
    pub(crate) page: WebDriver,
    driver: Child,
    _screen: Screen,
}

impl Window {
    /// Starts the app on this garage, the size of a phone.
    pub(crate) async fn open(garage: &Garage) -> Self {
        let window = Ready::new(garage).open(Path::new(env!("CARGO_BIN_EXE_trueground-app"))).await;
        window.size(PHONE).await;
        window
    }

    /// The element with this name for tests, once it is shown.
    pub(crate) async fn find(&self, name: &str) -> WebElement {
        self.css(&format!("[data-test=\"{name}\"]")).await
    }

    /// The first element shown that this selector names, as soon as there is one.
    pub(crate) async fn css(&self, selector: &str) -> WebElement {
        let until = Instant::now() + PATIENCE;
        loop {
            for element in self.page.find_all(By::Css(selector)).await.expect("the page answers") {
                // An error here means that the page has just been drawn anew.
                if element.is_displayed().await.unwrap_or(false) {
                    return element;
                }
            }
            if Instant::now() > until {
                let body = self.page.find(By::Tag("body")).await.expect("a page").text().await.unwrap_or_default();
                panic!("{selector} is not on the screen. What is:\n{body}");
            }
            tokio::time::sleep(AGAIN).await;
        }
    }

    /// Waits until something is so; `what` says it where it never is.
    pub(crate) async fn until(&self, what: &str, mut so: impl AsyncFnMut() -> bool) {
        let until = Instant::now() + PATIENCE;
        while !so().await {
            if Instant::now() > until {
                let body = self.page.find(By::Tag("body")).await.expect("a page").text().await.unwrap_or_default();
                panic!("it never happens that {what}. On the screen is:\n{body}");
            }
            tokio::time::sleep(AGAIN).await;
        }
    }

    /// Whether this selector names something on the page now.
    pub(crate) async fn has(&self, selector: &str) -> bool {
        !self.page.find_all(By::Css(selector)).await.expect("the page answers").is_empty()
    }

    /// Touches the element with this name for tests; a choice is touched on its label, as a thumb does.
    pub(crate) async fn touch(&self, name: &str) {
        self.touch_css(&format!("[data-test=\"{name}\"]:not(input), label:has(> input[data-test=\"{name}\"])")).await;
    }

    /// Types into the field with this name, in place of what stands there.
    pub(crate) async fn fill(&self, name: &str, text: &str) {
        let field = self.css(&format!("input[name=\"{name}\"]")).await;
        field.scroll_into_view().await.expect("it can be brought into sight");
        let until = Instant::now() + PATIENCE;
        // What still rises takes no text.
        while let Err(error) = field.clear().await {
            assert!(Instant::now() < until, "{name} cannot be emptied: {error}");
            tokio::time::sleep(AGAIN).await;
        }
        // Emptied without a key, a field says nothing of it.
        let keys = if text.is_empty() { format!("0{}", Key::Backspace.value()) } else { text.to_owned() };
        field.send_keys(keys).await.unwrap_or_else(|error| panic!("{name} takes no keys: {error}"));
    }

    /// Touches what this selector names.
    pub(crate) async fn touch_css(&self, selector: &str) {
        let until = Instant::now() + PATIENCE;
        loop {
            let element = self.css(selector).await;
            match self.touched(&element).await {
                Ok(true) => return,
                // Drawn anew between finding and touching, or moved away under the finger.
                Ok(false) | Err(_) if Instant::now() < until => tokio::time::sleep(AGAIN).await,
                Ok(false) => panic!("{selector} never feels a touch"),
                Err(error) => panic!("{selector} cannot be touched: {error}"),
            }
        }
    }

    /// Touches an element once it keeps still, as a person does, and says whether it felt it: a page that is just being laid out anew lets a
    /// touch fall beside.
    async fn touched(&self, element: &WebElement) -> WebDriverResult<bool> {
        element.scroll_into_view().await?;
        self.page.execute_async(STILL_AND_FEELS, vec![element.to_json()?]).await?;
        element.click().await?;
        let until = Instant::now() + FELT_WITHIN;
        while Instant::now() < until {
            // A page that the touch has loaded anew knows nothing of it any more.
            let felt = self.page.execute("return window.touchFelt !== false", Vec::new()).await?;
            if felt.json() == &serde_json::json!(true) {
                return Ok(true);
            }
            tokio::time::sleep(AGAIN).await;
        }
        Ok(false)
    }

    /// Keys of a keyboard, sent to whatever has them.
    pub(crate) async fn keys(&self, keys: &str) {
        self.css("body").await.send_keys(keys).await.expect("the page takes keys");
    }

    /// Text of the element with this name.
    pub(crate) async fn text(&self, name: &str) -> String {
        self.find(name).await.text().await.expect("an element has a text")
    }

    /// What a script in the page returns.
    pub(crate) async fn script(&self, script: &str) -> serde_json::Value {
        let answer = self.page.execute(script, Vec::<serde_json::Value>::new()).await.expect("the script runs");
        answer.json().clone()
    }

    /// Makes the page this many CSS pixels wide and high.
    pub(crate) async fn size(&self, (width, height): (u32, u32)) {
        self.page.set_window_rect(0, 0, width, height).await.expect("the window can be resized");
        let wanted = serde_json::json!([width, height]);
        self.until("the page has its size", async || {
            self.script("return [window.innerWidth, window.innerHeight]").await == wanted
        })
        .await;
    }

    /// Leaves a picture of the page in `target/screens`.
    pub(crate) async fn picture(&self, name: &str) {
        tokio::time::sleep(PAINT).await;
        let folder = screens();
        fs::create_dir_all(&folder).expect("a folder can be made");
        let shot = self.page.screenshot_as_png().await.expect("the page can be pictured");
        fs::write(folder.join(format!("{name}.png")), shot).expect("a picture can be written");
    }

    /// Kills the app as a flat battery would: no close, no drop, no flush.
    pub(crate) async fn kill(mut self) {
        let apps = children_of(self.driver.id());
        for app in &apps {
            // SIGKILL through the system's own tool: the standard library only kills its own children.
            let killed = Command::new("kill").args(["-9", &app.to_string()]).status().expect("kill runs");
            assert!(killed.success(), "process {app} could not be killed");
        }
        self.gone(&apps).await;
        self.end();
    }

    /// Closes the window as its cross does.
    pub(crate) async fn close(mut self) {
        let apps = children_of(self.driver.id());
        self.page.clone().quit().await.expect("the window closes");
        self.gone(&apps).await;
        self.end();
    }

    /// Waits until the processes have ended, and with them their hold on the garage.
    async fn gone(&self, apps: &[u32]) {
        let until = Instant::now() + PATIENCE;
        while apps.iter().any(|app| !has_ended(*app)) {
            assert!(Instant::now() < until, "the app does not end");
            tokio::time::sleep(AGAIN).await;
        }
    }

    fn end(&mut self) {
        // The session is gone already; without this the driver library waits two minutes for it.
        let _ = self.page.clone().leak();
        let _ = self.driver.kill();
        let _ = self.driver.wait();
    }
}

impl Drop for Window {
    fn drop(&mut self) {
        for app in children_of(self.driver.id()) {
            let _ = Command::new("kill").args(["-9", &app.to_string()]).stderr(Stdio::null()).status();
        }
        self.end();
    }
}

fn screens() -> PathBuf {
    let target = Path::new(env!("CARGO_TARGET_TMPDIR")).parent().expect("it lies in the target folder");
    target.join("screens")
}

/// A screen and a driver that listens: all that a window needs to be opened.
pub(crate) struct Ready {
    screen: Screen,
    driver: Child,
    port: u16,
}

impl Ready {
    pub(crate) fn new(garage: &Garage) -> Self {
        let screen = Screen::start();
        // Free when asked; if another takes it meanwhile the driver says so and ends.
        let port = TcpListener::bind("127.0.0.1:0").and_then(|free| free.local_addr()).expect("a port is free").port();
        let driver = Command::new("WebKitWebDriver")
            .args([format!("--port={port}"), "--host=127.0.0.1".into()])
            .env("DISPLAY", &screen.display)
            .env("TAURI_WEBVIEW_AUTOMATION", "true")
            .env("NO_AT_BRIDGE", "1")
            .env_remove("WAYLAND_DISPLAY")
            .envs(garage.environment())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .expect("WebKitWebDriver starts (`cargo xtask setup` installs it)");
        let until = Instant::now() + PATIENCE;
        while TcpStream::connect(("127.0.0.1", port)).is_err() {
            assert!(Instant::now() < until, "WebKitWebDriver does not listen");
            std::thread::sleep(Duration::from_millis(10));
        }
        Self { screen, driver, port }
    }

    /// Starts a program with a web view in it.
    pub(crate) async fn open(self, program: &Path) -> Window {
        let wanted = serde_json::json!({ "webkitgtk:browserOptions": { "binary": program, "args": [] } });
        let wanted: Capabilities = serde_json::from_value(wanted).expect("a map");
        let page = WebDriver::new(format!("http://127.0.0.1:{}", self.port), wanted).await;
        let page = page.unwrap_or_else(|error| panic!("the window of {} does not open: {error}", program.display()));
        Window { page, driver: self.driver, _screen: self.screen }
    }
}

/// True once every thread of the process has ended. The first thread may be dead while another still holds the garage.
fn has_ended(process: u32) -> bool {
    let threads = fs::read_dir(format!("/proc/{process}/task")).map_or(0, Iterator::count);
    state_and_parent(process).is_none_or(|(state, _)| state == "Z" && threads <= 1)
}

/// Processes whose parent is `parent`.
fn children_of(parent: u32) -> Vec<u32> {
    let processes = fs::read_dir("/proc").expect("a Linux machine").flatten();
    let ids = processes.filter_map(|entry| entry.file_name().to_str()?.parse::<u32>().ok());
    ids.filter(|id| state_and_parent(*id).is_some_and(|(_, its)| its == parent)).collect()
}

/// State letter and parent of a process; `None` once it is gone.
fn state_and_parent(process: u32) -> Option<(String, u32)> {
    let stat = fs::read_to_string(format!("/proc/{process}/stat")).ok()?;
    // The name in brackets may hold spaces; state and parent follow it.
    let mut after = stat.rsplit(')').next()?.split_whitespace();
    Some((after.next()?.to_owned(), after.next()?.parse().ok()?))
}
