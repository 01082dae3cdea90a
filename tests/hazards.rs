//! The inner logic of the hazard table, and that every step shows rows of it.

use barewafer_process::hazards::{
    HazardRow, NOTICE, UNKNOWN, for_step, meaning, row, rows, sort_worst_first,
};
use barewafer_tests::reference;

/// The rows of the file, without the one for an unknown chemical.
fn table() -> Vec<HazardRow> {
    rows().into_iter().filter(|row| row.id != UNKNOWN).collect()
}

fn carries(row: &HazardRow, codes: &[&str]) -> bool {
    row.h_codes.iter().any(|h| !h.variant && codes.contains(&h.code.as_str()))
}

#[test]
fn the_kernel_reads_the_file_as_it_stands() {
    let file = reference("hazards.csv");
    let table = table();
    assert_eq!(file.len(), table.len());
    assert_eq!(table.len(), 56);
    for (line, row) in file.iter().zip(&table) {
        assert_eq!(line.text("id"), row.id);
        let cell = |column: &str| line.text(column).trim_matches('-').to_owned();
        for (column, value) in [
            ("name", &row.name),
            ("kind", &row.kind),
            ("signal_word", &row.signal_word),
            ("h_meaning", &row.h_meaning),
            ("p_main", &row.p_main),
            ("incompatible", &row.incompatible),
            ("ppe", &row.ppe),
            ("first_aid", &row.first_aid),
            ("osha_pel", &row.limits.osha_pel.value),
            ("osha_pel_known_by", &row.limits.osha_pel.known_by),
            ("niosh_rel", &row.limits.niosh_rel.value),
            ("niosh_rel_known_by", &row.limits.niosh_rel.known_by),
            ("niosh_idlh", &row.limits.niosh_idlh.value),
            ("niosh_idlh_known_by", &row.limits.niosh_idlh.known_by),
            ("note", &row.note),
        ] {
            assert_eq!(&cell(column), value, "{} {column}", row.id);
        }
    }
}

#[test]
fn every_row_says_what_it_is_and_how_it_is_known() {
    let table = table();
    for row in &table {
        assert!(!row.id.is_empty() && !row.name.is_empty() && !row.h_meaning.is_empty());
        assert!(!row.first_aid_headline.is_empty(), "{}", row.id);
        assert!(!row.sources.is_empty(), "{}", row.id);
        assert!(row.sources.iter().any(|note| !note.known_by.is_empty()), "{}", row.id);
        if row.kind != "physical" {
            for limit in
                [&row.limits.osha_pel, &row.limits.niosh_rel, &row.limits.niosh_idlh]
            {
                assert!(
                    !limit.value.is_empty() && !limit.known_by.is_empty(),
                    "{}",
                    row.id
                );
            }
            assert!(
                ["Danger", "Warning"].contains(&row.signal_word.as_str()),
                "{}",
                row.id
            );
        }
        let same = table.iter().filter(|other| other.id == row.id).count();
        assert_eq!(same, 1, "{} stands twice", row.id);
    }
}

#[test]
fn every_pictogram_is_one_of_the_nine_and_every_code_has_words() {
    for row in table() {
        for sign in &row.ghs_pictograms {
            let digit =
                sign.strip_prefix("GHS0").and_then(|digit| digit.parse::<u8>().ok());
            assert!(
                digit.is_some_and(|digit| (1..=9).contains(&digit)),
                "{}: {sign}",
                row.id
            );
        }
        assert_eq!(row.ghs_pictograms.is_empty(), row.kind == "physical", "{}", row.id);
        assert_eq!(row.h_codes.is_empty(), row.kind == "physical", "{}", row.id);
        for h in &row.h_codes {
            assert!(!h.meaning.is_empty(), "{}: {}", row.id, h.code);
            assert_eq!(meaning(&h.code), Some(h.meaning));
        }
    }
}

#[test]
fn codes_call_for_their_pictogram() {
    let rules: [(&[&str], &str); 6] = [
        (&["H300", "H301", "H310", "H311", "H330", "H331"], "GHS06"),
        (&["H314", "H318"], "GHS05"),
        (&["H280"], "GHS04"),
        (&["H220", "H225", "H226"], "GHS02"),
        (&["H270", "H272"], "GHS03"),
        (&["H400", "H410", "H411"], "GHS09"),
    ];
    for row in table() {
        for (codes, sign) in rules {
            if carries(&row, codes) {
                let has = row.ghs_pictograms.iter().any(|found| found == sign);
                assert!(has, "{} has one of {codes:?} but not {sign}", row.id);
            }
        }
    }
}

#[test]
fn registry_numbers_have_their_check_digit() {
    let mut checked = 0;
    for row in table() {
        for number in &row.cas {
            let digits: Vec<u32> =
                number.chars().filter_map(|c| c.to_digit(10)).collect();
            let (check, rest) = digits.split_last().expect("digits");
            let sum: u32 = rest.iter().rev().zip(1..).map(|(digit, n)| digit * n).sum();
            assert_eq!(sum % 10, *check, "{}: {number}", row.id);
            checked += 1;
        }
    }
    assert!(checked >= 40, "{checked} numbers");
}

#[test]
fn every_hf_row_names_the_gel() {
    for id in ["HF49", "HF_DIL", "BHF", "NH4F", "BF3", UNKNOWN] {
        let row = row(id).expect(id);
        assert!(row.first_aid.contains("calcium gluconate"), "{id}");
        assert!(row.first_aid_headline.contains("calcium gluconate"), "{id}");
        assert!(row.is_hf_type() && !row.never.is_empty(), "{id}");
    }
    // The gel must not be taught for a burn that it does not help.
    assert!(
        row("TMAH25").expect("TMAH").never.iter().any(|line| line.contains("HF gel"))
    );
}

#[test]
fn the_rules_of_the_wet_bench_stand_with_their_chemical() {
    let rule = |id: &str, part: &str| {
        let row = row(id).expect(id);
        assert!(
            row.never.iter().any(|line| line.contains(part)),
            "{id}: {:?}",
            row.never
        );
    };
    rule("PIRANHA", "peroxide slowly into acid");
    rule("PIRANHA", "acetone");
    rule("PIRANHA", "close the bottle");
    rule("H2SO4", "acid into water");
    rule("HF49", "plastic only");
    rule("BHF", "glass");
    rule("SC1", "SC-2");
    rule("SC2", "SC-1");
    rule("TMAH238", "splash");
    rule("H3PO4_HOT", "water quickly");
    rule("SIH4", "purging");
    rule("HV_XRAY", "cage");
    rule("EVAPORATOR", "grounding hook");
    rule("EVAPORATOR", "interlock");
    rule("EVAPORATOR", "leaded window");
    for row in rows() {
        assert!(row.never.iter().all(|line| line.starts_with("Never ")), "{}", row.id);
    }
    assert!(NOTICE.contains("simulation") && NOTICE.contains("emergency number"));
}

/// Every step of the trade with the words that choose its chemicals.
const STEPS: &[(&str, &[&str], &[&str])] = &[
    ("clean", &["piranha"], &["PIRANHA", "H2SO4", "H2O2"]),
    ("clean", &["sc1"], &["SC1", "NH4OH", "H2O2"]),
    ("clean", &["sc2"], &["SC2", "HCL", "H2O2"]),
    ("clean", &["hf_dip"], &["HF_DIL"]),
    ("clean", &["solvent"], &["ACETONE", "IPA"]),
    ("clean", &["uv_ozone"], &["UV", "OZONE"]),
    (
        "clean",
        &["piranha_sc1_hf_sc2"],
        &["HF_DIL", "H2SO4", "PIRANHA", "SC1", "NH4OH", "HCL", "SC2", "H2O2"],
    ),
    ("oxidation", &["dry"], &["O2", "HEAT"]),
    ("oxidation", &["wet"], &["H2", "O2", "HEAT"]),
    ("oxidation", &["steam"], &["H2", "O2", "HEAT"]),
    ("oxidation", &["dry", "hcl"], &["HCL", "O2", "HEAT"]),
    ("drive_in", &["inert", "boron"], &["N2", "HEAT"]),
    ("anneal", &["forming_gas"], &["H2", "N2", "HEAT"]),
    ("predeposition", &["pocl3", "phosphorus"], &["POCL3", "O2", "HEAT"]),
    ("predeposition", &["diborane"], &["B2H6", "O2", "HEAT"]),
    ("predeposition", &["phosphine"], &["PH3", "O2", "HEAT"]),
    ("predeposition", &["dilute_vapor", "boron"], &["B2H6", "O2", "HEAT"]),
    ("predeposition", &["dilute_vapor", "phosphorus"], &["PH3", "O2", "HEAT"]),
    ("predeposition", &["solid_disc", "boron"], &["N2", "HEAT"]),
    (
        "predeposition",
        &["doped_glass", "arsenic", "polysilicon"],
        &["AS2O3", "N2", "HEAT"],
    ),
    ("predeposition", &["dilute_vapor", "arsenic"], &["ASH3", "O2", "HEAT"]),
    ("predeposition", &["dilute_vapor", "antimony"], &["SBH3", "O2", "HEAT"]),
    ("predeposition", &["doped_glass", "antimony"], &["SB2O3", "N2", "HEAT"]),
    ("predeposition", &["doped_glass", "indium"], &["INDIUM", "N2", "HEAT"]),
    ("predeposition", &["dilute_vapor", "gallium"], &["H2", "N2", "HEAT"]),
    ("predeposition", &["doped_glass", "aluminum"], &["N2", "HEAT"]),
    ("implantation", &["boron"], &["BF3", "HV_XRAY", "VACUUM", "CRYO"]),
    ("implantation", &["bf2"], &["BF3", "HV_XRAY", "VACUUM", "CRYO"]),
    ("implantation", &["arsenic"], &["ASH3", "HV_XRAY", "VACUUM"]),
    ("implantation", &["phosphorus"], &["PH3", "HV_XRAY", "VACUUM"]),
    ("implantation", &["antimony"], &["HEAT", "HV_XRAY", "VACUUM"]),
    ("implantation", &["indium"], &["HEAT", "HV_XRAY", "VACUUM"]),
    ("deposition", &["polysilicon", "lpcvd"], &["SIH4", "HEAT", "VACUUM"]),
    ("deposition", &["nitride", "lpcvd"], &["SIH2CL2", "NH3", "HEAT", "VACUUM"]),
    ("deposition", &["deposited_oxide", "teos"], &["TEOS", "HEAT", "VACUUM"]),
    ("deposition", &["deposited_oxide", "lpcvd"], &["SIH4", "O2", "HEAT", "VACUUM"]),
    (
        "deposition",
        &["deposited_oxide", "pecvd"],
        &["SIH4", "O2", "HEAT", "RF_PLASMA", "VACUUM"],
    ),
    ("deposition", &["phosphorus_glass"], &["PH3", "SIH4", "O2", "HEAT", "VACUUM"]),
    ("deposition", &["deposited_oxide", "spin_on"], &["IPA", "PGMEA", "HEAT"]),
    ("deposition", &["aluminum", "sputter"], &["RF_PLASMA", "VACUUM", "CYL"]),
    ("deposition", &["aluminum", "evaporation"], &["EVAPORATOR", "VACUUM", "CYL"]),
    ("planarization", &["deposited_oxide"], &["SLURRY", "SHARPS"]),
    ("spin_coating", &["demo-p12"], &["PGMEA", "RESIST"]),
    ("spin_coating", &["demo-p12", "primed"], &["PGMEA", "RESIST", "HMDS", "HEAT"]),
    ("spin_coating", &["edge_bead_removal"], &["ACETONE", "PGMEA", "RESIST"]),
    ("bake", &["soft"], &["PGMEA", "HEAT"]),
    ("bake", &["post_exposure", "demo-p12"], &["PGMEA", "HEAT"]),
    ("bake", &["hard"], &["PGMEA", "HEAT"]),
    ("exposure", &["contact", "demo-p12"], &["OZONE", "UV"]),
    ("development", &["tmah_2_38"], &["TMAH238"]),
    ("development", &["koh_dilute"], &["KOH"]),
    ("resist_strip", &["oxygen_plasma"], &["OZONE", "O2", "RF_PLASMA", "VACUUM"]),
    ("resist_strip", &["solvent"], &["ACETONE", "IPA"]),
    ("resist_strip", &["piranha"], &["H2SO4", "PIRANHA", "H2O2"]),
    ("wet_etch", &["hf_49", "thermal_oxide"], &["HF49"]),
    ("wet_etch", &["hf_25_1"], &["HF_DIL"]),
    ("wet_etch", &["hf_10_1"], &["HF_DIL"]),
    ("wet_etch", &["hf_dilute"], &["HF_DIL"]),
    ("wet_etch", &["bhf_5_1"], &["HF_DIL", "BHF", "NH4F"]),
    ("wet_etch", &["bhf_6_1"], &["HF_DIL", "BHF", "NH4F"]),
    ("wet_etch", &["bhf_10_1"], &["HF_DIL", "BHF", "NH4F"]),
    ("wet_etch", &["phosphoric_85", "nitride"], &["H3PO4_HOT", "HEAT"]),
    ("wet_etch", &["aluminum_etch", "aluminum"], &["AL_ETCH", "ACETIC", "HNO3"]),
    ("wet_etch", &["koh_30", "silicon"], &["KOH", "H2"]),
    ("wet_etch", &["tmah_25", "silicon"], &["TMAH25", "H2"]),
    ("wet_etch", &["poly_etch", "polysilicon"], &["HF_DIL", "NH4F", "HNO3"]),
    ("wet_etch", &["hydrofluoric_nitric_acetic"], &["HF49", "ACETIC", "HNO3"]),
    ("wet_etch", &["piranha", "resist"], &["H2SO4", "PIRANHA", "H2O2"]),
    ("wet_etch", &["acetone", "resist"], &["ACETONE", "IPA"]),
    ("dry_etch", &["chf3_o2"], &["PLASMA_BY", "CF4", "RF_PLASMA", "VACUUM"]),
    ("dry_etch", &["chf3_ar"], &["PLASMA_BY", "CF4", "RF_PLASMA", "VACUUM"]),
    ("dry_etch", &["cf4_h2"], &["PLASMA_BY", "H2", "CF4", "RF_PLASMA", "VACUUM"]),
    ("dry_etch", &["c4f8"], &["PLASMA_BY", "CF4", "RF_PLASMA", "VACUUM"]),
    ("dry_etch", &["cf4_o2", "nitride"], &["PLASMA_BY", "CF4", "RF_PLASMA", "VACUUM"]),
    ("dry_etch", &["sf6", "polysilicon"], &["PLASMA_BY", "SF6", "RF_PLASMA", "VACUUM"]),
    ("dry_etch", &["hbr_cl2"], &["CL2", "PLASMA_BY", "HBR", "RF_PLASMA", "VACUUM"]),
    ("dry_etch", &["bcl3_cl2"], &["CL2", "BCL3", "PLASMA_BY", "RF_PLASMA", "VACUUM"]),
    ("dry_etch", &["oxygen", "resist"], &["OZONE", "O2", "RF_PLASMA", "VACUUM"]),
    ("exposure", &["gas_cylinder"], &["OZONE", "UV", "N2", "CYL"]),
];

#[test]
fn steps_show_the_rows_of_their_chemicals_worst_first() {
    for (operation, chemistry, expected) in STEPS {
        let mut shown = for_step(operation, chemistry);
        let sorted = shown.clone();
        sort_worst_first(&mut shown);
        assert_eq!(sorted, shown, "{operation} {chemistry:?} is not sorted");
        let mut expected = expected.to_vec();
        sort_worst_first(&mut expected);
        assert_eq!(shown, expected, "{operation} {chemistry:?}");
        for id in shown {
            assert!(row(id).is_some(), "{operation} {chemistry:?}: no row {id}");
        }
    }
}

#[test]
fn what_is_not_known_is_treated_as_hf() {
    for (operation, chemistry) in [
        ("wet_etch", &["mystery"][..]),
        ("wet_etch", &[]),
        ("deposition", &["mystery", "lpcvd"]),
        ("development", &["mystery"]),
        ("no_such_step", &[]),
    ] {
        assert_eq!(for_step(operation, chemistry).first(), Some(&UNKNOWN), "{operation}");
    }
}
