//! A car's form filled in by hand: sections that open, five kinds of point, and the picture that follows.

use crate::garage::Garage;
use crate::window::Window;
use serde_json::json;

#[tokio::test(flavor = "multi_thread", worker_threads = 2)]
async fn a_car_with_overhangs_springs_and_five_kinds_of_point_is_entered_and_opened_again() {
    let garage = Garage::empty();
    let window = Window::open(&garage).await;
    window.touch("add-car").await;
    for (name, text) in
        [("label", "Shop truck"), ("wheelbase", "104 15/16"), ("track_front", "54 13/16"), ("track_rear", "55 13/16")]
    {
        window.fill(name, text).await;
    }
    window.touch("outline-pickup").await;
    for kind in ["fender_lip", "rocker", "body_seam", "spring_perch"] {
        window.touch(&format!("add-points-{kind}")).await;
    }
    for at in 0..5 {
        for (field, text) in
            [("front_behind_axle", "13"), ("front_apart", "27"), ("rear_ahead_of_axle", "16"), ("rear_apart", "34")]
        {
            window.fill(&format!("points.{at}.{field}"), text).await;
        }
    }
    window.css("[data-test=\"sketch\"][data-marks=\"20\"]").await;
    window.touch("open-body").await;
    window.fill("body.overhang_front", "17").await;
    window.fill("body.overhang_rear", "3 ft").await;
    window.touch("open-springs").await;
    window.touch("spring-front-transverse_leaf").await;
    for (field, text) in
        [("front.base", "30 5/16"), ("front.side_rate", "25"), ("rear.base", "38 3/4"), ("rear.side_rate", "soft")]
    {
        window.fill(&format!("springs.{field}"), text).await;
    }
    window.touch("save").await;
    assert!(window.text("problem-springs.rear.side_rate").await.starts_with("soft is not a spring rate."));
    let typed = window.script("return document.getElementsByName('springs.rear.side_rate')[0].value").await;
    assert_eq!(typed, json!("soft"), "what was typed is kept");
    window.fill("springs.rear.side_rate", "160 lb/in").await;
    window
        .until("the share is worked out", async || window.text("roll-share").await.starts_with("From the springs: 0.3"))
        .await;
    window.picture("car-form-springs").await;
    window.touch("save").await;
    window.touch("measures").await;
    window.touch("open-springs").await;
    let kept = window.script("return document.getElementsByName('springs.rear.side_rate')[0].value").await;
    assert_eq!(kept, json!("160 lb/in"));
    window.close().await;
}
