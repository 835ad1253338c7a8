//! Two windows on one garage: the second is told at the door, in words, and comes in once the first is closed.

use crate::garage::Garage;
use crate::window::Window;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_second_window_says_that_the_garage_is_open_elsewhere() {
    let garage = Garage::empty();
    let first = Window::open(&garage).await;
    first.find("add-car").await;
    let second = Window::open(&garage).await;
    let words = second.text("problem").await;
    assert!(words.contains("already open") && words.contains("close it first"), "{words:?}");
    second.picture("second-window").await;
    first.close().await;
    second.reload().await;
    second.find("add-car").await;
    second.close().await;
}
