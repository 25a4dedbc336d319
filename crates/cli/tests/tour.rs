//! The tour: what is told at every stop of two demonstrations, what is written, and that its bytes are always the same.

mod common;

use std::fs;

use common::{all_of, contents, demo, run, sumpwright};
use scene::Image;

#[track_caller]
fn told(name: &str) -> String {
    let file = demo(name);
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::copy(file, dir.path().join("sump.toml")).expect("copied");
    all_of(&run(dir.path(), &["tour", "sump.toml"]))
}

#[test]
fn the_tours_of_two_demonstrations() {
    insta::assert_snapshot!("seahorse", told("seahorse"));
    insta::assert_snapshot!("brook", told("brook"));
}

#[test]
fn a_file_that_cannot_be_walked_through() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    fs::write(dir.path().join("sump.toml"), "format = 1\n").expect("written");
    let output = run(dir.path(), &["tour", "sump.toml", "--into", "tour"]);
    assert_eq!(output.status.code(), Some(2), "{}", all_of(&output));
    assert!(output.stdout.is_empty() && !dir.path().join("tour").exists());
}

#[test]
fn every_stop_is_drawn_and_linked_and_its_bytes_are_the_same_on_any_number_of_threads() {
    let dir = tempfile::tempdir().expect("a temporary folder");
    let file = demo("brook");
    let file = file.to_str().expect("a path of letters");
    let tour = |target: &str, threads: &str| {
        let args = ["tour", file, "--into", target, "--json"];
        let output = sumpwright(dir.path(), &args).env("RAYON_NUM_THREADS", threads).output();
        let output = output.expect("the binary runs");
        assert_eq!(output.status.code(), Some(0), "{}", all_of(&output));
        let json: serde_json::Value = serde_json::from_slice(&output.stdout).expect("JSON");
        (json, contents(&dir.path().join(target)))
    };
    let ((json, one), (_, eight)) = (tour("one", "1"), tour("eight", "8"));
    assert!(one == eight, "the bytes differ");
    let stops = json["stops"].as_array().expect("a list");
    let page = String::from_utf8(one["tour.html"].clone()).expect("text");
    let pictures: Vec<&String> = one.keys().filter(|name| name.ends_with(".png")).collect();
    assert_eq!((pictures.len(), one.len()), (stops.len(), stops.len() + 1));
    for picture in pictures {
        assert!(page.contains(&format!("src=\"{picture}\"")), "{picture} is not on the page");
        let image = Image::from_png(&one[picture]).expect("a picture");
        // The drawing, and the words below it.
        assert!(image.size[0] == 1400 && image.size[1] > 900, "{picture}: {:?}", image.size);
    }
    assert!(!page.contains("http"), "nothing comes from elsewhere");
}
