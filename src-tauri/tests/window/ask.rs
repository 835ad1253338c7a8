//! Questions put straight to the garage through the page's own door, to set a test up or to look behind the screen.

use serde_json::{Value, json};

use crate::window::Window;

impl Window {
    /// Asks the garage; a problem fails the test.
    pub(crate) async fn ask(&self, verb: &str, request: Value) -> Value {
        match self.try_ask(verb, request).await {
            Ok(reply) => reply,
            Err(problem) => panic!("{verb}: {problem}"),
        }
    }

    /// Asks the garage; the error is the problem it answered with.
    pub(crate) async fn try_ask(&self, verb: &str, request: Value) -> Result<Value, Value> {
        let script = "const [verb, request, done] = arguments;
            window.__TAURI_INTERNALS__.invoke('ask', { verb, request })
                .then((reply) => done({ reply }), (problem) => done({ problem }));";
        let answer = self.page.execute_async(script, vec![json!(verb), request]).await.expect("the page answers");
        let mut answer = answer.json().clone();
        match answer.get_mut("problem") {
            Some(problem) => Err(problem.take()),
            None => Ok(answer["reply"].take()),
        }
    }
}
