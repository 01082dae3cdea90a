//! The built command with good and bad input.
#![expect(clippy::expect_used, reason = "a test stops at the first surprise")]

use std::io::Write;
use std::process::{Command, Output, Stdio};

use serde_json::Value;

const GOOD: &str = r#"{"operation":"implantation","dopant":"boron","energy_kev":100}"#;

/// Runs the command with these arguments and this standard input.
fn barewafer(arguments: &[&str], input: &[u8]) -> Output {
    let mut child = Command::new(env!("CARGO_BIN_EXE_barewafer"))
        .args(arguments)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command starts");
    let mut standard_input = child.stdin.take().expect("its standard input");
    let input = input.to_vec();
    // The command stops reading what is too long: a failed write is then as it should be.
    let writer = std::thread::spawn(move || standard_input.write_all(&input).is_ok());
    let output = child.wait_with_output().expect("the command ends");
    writer.join().expect("the writer ends");
    output
}

/// The input is refused: status 2, one line on standard error that has these parts, nothing on
/// standard output.
#[track_caller]
fn refused(arguments: &[&str], input: &[u8], parts: &[&str]) {
    let output = barewafer(arguments, input);
    let said = String::from_utf8(output.stderr).expect("text on standard error");
    assert_eq!(output.status.code(), Some(2), "{said}");
    assert!(output.stdout.is_empty(), "standard output must stay empty");
    assert!(said.ends_with('\n') && said.lines().count() == 1, "one line: {said:?}");
    assert!(!said.trim_end().chars().any(char::is_control), "{said:?}");
    assert!(said.len() < 3000, "{} bytes are no line", said.len());
    assert!(!said.contains("panicked"), "{said}");
    for part in parts {
        assert!(said.contains(part), "{part} in {said}");
    }
}

/// A request of an implantation with one more field.
fn with(field: &str) -> Vec<u8> {
    format!(r#"{{"operation":"implantation","dopant":"boron","energy_kev":100,{field}}}"#)
        .into_bytes()
}

#[test]
fn a_good_request_is_answered_with_one_object() {
    let output = barewafer(&["bench"], GOOD.as_bytes());
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty());
    let text = String::from_utf8(output.stdout).expect("text");
    assert_eq!(text.lines().count(), 1);
    let report: Value = serde_json::from_str(&text).expect("one JSON object");
    assert_eq!(report["operation"], "implantation");
    // 1975 table: 299.4 nm.
    assert_eq!(report["results"]["projected_range_nm"], 299.4);
    assert!(report["kernel_version"].as_str().is_some_and(|version| !version.is_empty()));
}

#[test]
fn pretty_only_changes_the_layout() {
    let plain = barewafer(&["bench"], GOOD.as_bytes()).stdout;
    let pretty = barewafer(&["bench", "--pretty"], GOOD.as_bytes()).stdout;
    assert!(plain.len() < pretty.len());
    let read = |text: &[u8]| serde_json::from_slice::<Value>(text).expect("JSON");
    assert_eq!(read(&plain), read(&pretty));
}

#[test]
fn the_operation_may_stand_in_the_command_the_request_or_both() {
    let bare = br#"{"dopant":"boron","energy_kev":100}"#;
    let named = barewafer(&["bench", "implantation"], bare);
    assert_eq!(named.status.code(), Some(0));
    assert_eq!(named.stdout, barewafer(&["bench"], GOOD.as_bytes()).stdout);
    let both = barewafer(&["bench", "implantation"], GOOD.as_bytes());
    assert_eq!(named.stdout, both.stdout);
    refused(&["bench", "oxidation"], GOOD.as_bytes(), &["implantation", "oxidation"]);
    refused(&["bench"], bare, &["operation is missing", "implantation"]);
}

#[test]
fn help_version_and_list_explain_themselves() {
    for arguments in
        [&["--help"][..], &["--version"], &["list"], &["list", "implantation"]]
    {
        let output = barewafer(arguments, b"");
        assert_eq!(output.status.code(), Some(0), "{arguments:?}");
        assert!(output.stderr.is_empty() && !output.stdout.is_empty());
    }
    let list = String::from_utf8(barewafer(&["list"], b"").stdout).expect("text");
    for part in ["implantation", "energy_kev", "5 to 400 keV", "gibbons_1975 | computed"]
    {
        assert!(list.contains(part), "{part} in {list}");
    }
    for operation in barewafer_process::OPERATIONS {
        assert!(list.lines().any(|line| line == *operation), "{operation}");
    }
}

#[test]
fn unknown_words_of_the_command_are_refused() {
    refused(&[], b"", &["a command is missing", "bench"]);
    refused(&["brench"], GOOD.as_bytes(), &["brench", "bench"]);
    refused(&["bench", "--loud"], GOOD.as_bytes(), &["--loud"]);
    refused(&["bench", "implantation", "twice"], GOOD.as_bytes(), &["twice"]);
    refused(&["list", "baking"], b"", &["baking", "implantation"]);
    refused(&["bench", "\u{1b}[31m\n"], b"{}", &["not known"]);
}

#[test]
fn unknown_operations_and_fields_are_refused() {
    refused(
        &["bench"],
        br#"{"operation":"implanting"}"#,
        &["implanting", "implantation"],
    );
    refused(&["bench"], br#"{"operation":7}"#, &["operation", "7"]);
    refused(
        &["bench"],
        &with(r#""energy_ev":1"#),
        &["energy_ev", "did you mean energy_kev"],
    );
    refused(&["bench"], &with(r#""\u001b[2J\n":1"#), &["not a field"]);
    let long = format!(r#""{}":1"#, "x".repeat(500_000));
    refused(&["bench"], &with(&long), &["xxx"]);
}

#[test]
fn wrong_types_and_ranges_are_refused() {
    refused(&["bench"], &with(r#""tilt_deg":"steep""#), &["tilt_deg", "steep", "number"]);
    refused(&["bench"], &with(r#""tilt_deg":null,"dose_cm2":true"#), &["dose_cm2"]);
    refused(&["bench"], &with(r#""tilt_deg":90"#), &["tilt_deg", "90", "0 to 60"]);
    refused(&["bench"], &with(r#""dose_cm2":-0.0"#), &["dose_cm2", "1e11 to 1e16"]);
    refused(&["bench"], &with(r#""model":"guess""#), &["model", "guess", "gaussian"]);
    refused(&["bench"], &with(r#""through":{}"#), &["through"]);
}

#[test]
fn numbers_that_are_none_are_refused() {
    for number in
        ["NaN", "Infinity", "-Infinity", "1e999", "-1e999", "0x10", "1,5", "--1"]
    {
        refused(&["bench"], &with(&format!(r#""dose_cm2":{number}"#)), &["not JSON"]);
    }
}

#[test]
fn what_is_no_object_is_refused() {
    for input in
        [&b""[..], b" \n", b"[]", b"null", b"\"implantation\"", b"{", b"{}{}", b"42"]
    {
        refused(&["bench"], input, &["request"]);
    }
    refused(&["bench"], b"\xff\xfe{\"operation\":\"\xc3\x28\"}", &["not JSON"]);
    refused(&["bench"], b"{\"operation\":\"\xc3\x28\"}", &["not JSON"]);
}

#[test]
fn deep_nesting_is_refused() {
    for depth in [200, 100_000] {
        let nested = format!("{}{}", "[".repeat(depth), "]".repeat(depth));
        refused(&["bench"], nested.as_bytes(), &["not JSON"]);
        refused(&["bench"], &with(&format!(r#""through":{nested}"#)), &["not JSON"]);
    }
}

#[test]
fn ten_megabytes_of_junk_are_refused() {
    let junk: Vec<u8> = (0..10_000_000_u32).map(|i| (i * 31 % 251) as u8).collect();
    refused(&["bench"], &junk, &["too large", "1000000"]);
    refused(&["bench"], &vec![b' '; 10_000_000], &["too large"]);
}

#[test]
fn a_reader_that_leaves_early_is_no_mistake() {
    let mut child = Command::new(env!("CARGO_BIN_EXE_barewafer"))
        .arg("bench")
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command starts");
    // The reader leaves before the request comes: every write of the answer then fails.
    drop(child.stdout.take());
    let mut input = child.stdin.take().expect("its standard input");
    input.write_all(GOOD.as_bytes()).expect("the request is read");
    drop(input);
    let output = child.wait_with_output().expect("the command ends");
    assert_eq!(output.status.code(), Some(0));
    assert!(output.stderr.is_empty());
}

#[cfg(target_os = "linux")]
#[test]
fn a_full_disk_is_status_one() {
    let full =
        std::fs::OpenOptions::new().write(true).open("/dev/full").expect("a full disk");
    let output = Command::new(env!("CARGO_BIN_EXE_barewafer"))
        .arg("list")
        .stdout(full)
        .stderr(Stdio::piped())
        .spawn()
        .expect("the command starts")
        .wait_with_output()
        .expect("the command ends");
    assert_eq!(output.status.code(), Some(1));
    assert!(String::from_utf8_lossy(&output.stderr).contains("failed"));
}

#[test]
fn the_checks_of_a_bench_are_all_good() {
    let output = barewafer(&["checks", "--bench", "furnace"], b"");
    assert_eq!(output.status.code(), Some(0));
    let text = String::from_utf8(output.stdout).expect("text");
    let last = text.lines().last().expect("a last line");
    assert!(last.contains(" met, ") && last.contains(" 0 off, "), "{last}");
    refused(&["checks", "--bench", "garden"], b"", &["garden", "furnace"]);
}

#[test]
fn checks_and_constants_are_listed_for_programs() {
    let list = |words: &[&str]| -> Value {
        let output = barewafer(words, b"");
        assert_eq!(output.status.code(), Some(0), "{words:?}");
        serde_json::from_slice(&output.stdout).expect("JSON")
    };
    let rows = list(&["checks", "--rows", "--bench", "polisher"]);
    let judged = list(&["checks", "--json", "--bench", "polisher"]);
    let count = rows["checks"].as_array().expect("a list").len();
    assert_eq!(judged.as_array().expect("a list").len(), count);
    assert_eq!(judged[0]["outcome"]["verdict"], "met");
    let constants = list(&["constants", "--json", "--bench", "polisher"]);
    assert_eq!(constants[0]["name"], "Preston's coefficient of oxide");
}

#[test]
fn an_answer_carries_the_words_of_its_cautions() {
    let request = br#"{"operation":"clean","recipe":"hf_dip"}"#;
    let output = barewafer(&["bench"], request);
    let answer: Value = serde_json::from_slice(&output.stdout).expect("one JSON object");
    assert_eq!(answer["hazards"][0], "HF_DIL");
    let caution = &answer["cautions"][0];
    assert_eq!(caution["signal_word"], "Danger");
    for part in ["can_happen", "wear", "first_aid"] {
        assert!(caution[part].as_str().is_some_and(|text| text.len() > 10), "{part}");
    }
    assert!(caution["never"].as_array().is_some_and(|list| !list.is_empty()));
    assert!(answer["notice"].as_str().is_some_and(|text| text.contains("simulation")));
}

#[test]
fn hazards_are_told_in_words_and_as_data() {
    let table = String::from_utf8(barewafer(&["hazards"], b"").stdout).expect("text");
    for part in ["HF49", "PIRANHA", "UNKNOWN", "emergency number"] {
        assert!(table.contains(part), "{part}");
    }
    let row =
        String::from_utf8(barewafer(&["hazards", "TEOS"], b"").stdout).expect("text");
    for part in ["WARNING", "OSHA PEL: 100 ppm", "Spill", "current sheet"] {
        assert!(row.contains(part), "{part} in {row}");
    }
    let all = barewafer(&["hazards", "--json"], b"").stdout;
    let all: Value = serde_json::from_slice(&all).expect("JSON");
    for list in ["rows", "settings", "rules_of_sequence", "emergency", "questions"] {
        assert!(all[list].as_array().is_some_and(|list| list.len() > 5), "{list}");
    }
    refused(&["hazards", "NIX"], b"", &["NIX", "HF49"]);
}

#[test]
fn a_run_sheet_is_judged_step_by_step() {
    let flow = br#"{"title":"T","steps":[
        {"id":"lift","step":{"operation":"resist_strip","method":"solvent"}},
        {"id":"rca","step":{"operation":"clean","recipe":"piranha"}}]}"#;
    let output = barewafer(&["hazards", "--sheet"], flow);
    assert_eq!(output.status.code(), Some(1));
    let text = String::from_utf8(output.stdout).expect("text");
    for part in
        ["STOP: Solvent goes into piranha (steps lift, rca)", "DANGER: Piranha", "Never"]
    {
        assert!(text.contains(part), "{part} in {text}");
    }
    let sound = br#"[{"operation":"development"}]"#;
    let output = barewafer(&["hazards", "--sheet", "--json"], sound);
    assert_eq!(output.status.code(), Some(0));
    let sheet: Value = serde_json::from_slice(&output.stdout).expect("JSON");
    assert_eq!(sheet["hazards"][0], "TMAH238");
    refused(&["hazards", "--sheet"], b"{}", &["steps", "run sheet"]);
    refused(&["hazards", "--sheet"], b"{", &["no JSON"]);
}
