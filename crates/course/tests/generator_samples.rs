//! The numbers and keys of some students, pinned for ever (see the file's own line).

use barewafer_course::Owner;
use barewafer_course::catalog::catalog;
use barewafer_course::numbers::draw;
use serde_json::Value;

#[test]
fn old_links_give_old_numbers() {
    let file: Value =
        serde_json::from_str(include_str!("generator_samples.json")).expect("JSON");
    let catalog = catalog().expect("a sound file");
    let rows = file["rows"].as_array().expect("rows");
    assert!(12 <= rows.len());
    for row in rows {
        let text = |name: &str| row[name].as_str().expect("a text");
        let owner = Owner {
            code: text("code"),
            student: text("student"),
            set: u32::try_from(row["set"].as_u64().expect("a count")).expect("small"),
        };
        let exercise = catalog.exercise(text("exercise")).expect("it exists");
        let numbers = draw(catalog, exercise, owner).expect("numbers");
        let pinned = row["numbers"].as_object().expect("numbers");
        assert_eq!(numbers.drawn.len(), pinned.len(), "{row}");
        for (name, value) in pinned {
            let drawn = serde_json::to_value(&numbers.drawn[name]).expect("plain data");
            // 100 and 100.0 are one number and two JSON values.
            let same = match (drawn.as_f64(), value.as_f64()) {
                (Some(a), Some(b)) => a.to_bits() == b.to_bits(),
                _ => &drawn == value,
            };
            assert!(same, "{name}: {drawn} instead of {value} in {row}");
        }
        let key = numbers.value_of(exercise, &exercise.answer.formula).expect("a key");
        let pinned = row["key"].as_f64().expect("a key");
        assert!((key / pinned - 1.0).abs() < 1e-5, "{key} in {row}");
    }
}
