//! The window may ask the one question and nothing else: its security policy is on, and no screen of ours offends against it.

use serde_json::{Value, json};

use crate::garage::Garage;
use crate::window::Window;

/// Collects every offence from now on.
const WATCH: &str = "window.offences = [];
    document.addEventListener('securitypolicyviolation', (event) =>
        window.offences.push(`${event.violatedDirective}: ${event.blockedURI} ${event.sourceFile}:${event.lineNumber}`));";

impl Window {
    /// Watches for offences against the policy on the page as it now is.
    pub(crate) async fn watch_policy(&self) {
        self.script(WATCH).await;
    }

    /// Fails if there was an offence since the watch began.
    pub(crate) async fn kept_policy(&self) {
        assert_eq!(self.script("return window.offences").await, json!([]), "offences against the security policy");
    }
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn the_policy_is_on_and_the_page_needs_no_exception() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    // What is in the page before a script can watch: nothing that the policy would have to let through.
    let inline = window
        .script("return document.querySelectorAll('script:not([src]), style, [onclick], [onload], base, iframe, object').length")
        .await;
    assert_eq!(inline, json!(0), "inline scripts or styles");

    window.watch_policy().await;
    let blocked = window
        .page
        .execute_async(
            "const done = arguments[arguments.length - 1];
             fetch('http://127.0.0.1:9/').then(() => done('went out'), () => setTimeout(() => done(window.offences), 100));",
            Vec::<Value>::new(),
        )
        .await
        .expect("the script runs");
    let blocked = blocked.json().clone();
    assert!(
        blocked.as_array().is_some_and(|offences| offences.iter().any(|o| o.to_string().contains("connect-src"))),
        "a request to the network must be an offence: {blocked}"
    );
    window.close().await;
}

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn only_our_own_question_is_answered() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.find("add-car").await;
    for command in
        ["plugin:app|version", "plugin:window|close", "plugin:webview|create_webview", "plugin:path|resolve", "other"]
    {
        let script = "const [command, done] = arguments;
            window.__TAURI_INTERNALS__.invoke(command, {}).then(() => done('answered'), (error) => done(String(error)));";
        let answer = window.page.execute_async(script, vec![json!(command)]).await.expect("the script runs");
        let said = answer.json().as_str().expect("a text").to_owned();
        assert!(said.contains("not allowed") || said.contains("not found"), "{command}: {said}");
    }
    let unknown = window.try_ask("drop_everything", json!({})).await.expect_err("there is no such verb");
    assert_eq!(unknown["code"], "verb_unknown");
    window.close().await;
}
