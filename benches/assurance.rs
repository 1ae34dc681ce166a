//! How long the operations around a batch take: assure, amend, swap, composition, JSON to JSON.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lixivium::wire;

/// The first so many of these fats, 100 g and more of each.
const IDS: [&str; 16] = [
    "olive-oil",
    "coconut-oil",
    "palm-oil",
    "lard",
    "sunflower-oil",
    "castor-oil",
    "cocoa-butter",
    "shea-butter",
    "rice-bran-oil",
    "almond-oil",
    "avocado-oil",
    "palm-kernel-oil",
    "canola-oil",
    "sesame-oil",
    "grapeseed-oil",
    "beef-tallow",
];

fn plan(count: usize) -> String {
    let fat = |(i, id): (usize, &&str)| format!(r#"{{"fat":"{id}","mass":{}}}"#, 100 + 7 * i);
    let fats: Vec<_> = IDS[..count].iter().enumerate().map(fat).collect();
    format!(
        r#"{{"fats":[{}],"superfat":5,"alkali":{{"naoh_purity":98}},"water":{{"lye_concentration":31}},"scale_step":0.1}}"#,
        fats.join(",")
    )
}

fn operations(c: &mut Criterion) {
    let assure = |count, tolerances| {
        let plan = plan(count);
        format!(r#"{{"plan":{plan},"tolerances":{{"naoh_purity":[97,99]{tolerances}}}}}"#)
    };
    let at_hand = IDS.map(|id| format!("\"{id}\"")).join(",");
    let cases = [
        ("assure, 16 inputs", "assure", assure(15, "")),
        (
            "assure, 16 inputs misweighed",
            "assure",
            assure(15, r#","weighing_error":1"#),
        ),
        (
            "amend, 3 fats at hand",
            "amend",
            format!(
                r#"{{"plan":{},"actual":{{"naoh_mass":95}},"fats":["lard","olive-oil","cocoa-butter"],"iodine_value":60}}"#,
                plan(4)
            ),
        ),
        (
            "swap, 15 fats at hand",
            "swap",
            format!(
                r#"{{"plan":{},"replace":"palm-oil","at_hand":[{}]}}"#,
                plan(4),
                at_hand.replace("\"palm-oil\",", "")
            ),
        ),
        (
            "composition, 16 fats",
            "composition",
            format!(r#"{{"plan":{}}}"#, plan(16)),
        ),
    ];
    let mut group = c.benchmark_group("around a batch");
    group.sample_size(20);
    for (name, operation, request) in cases {
        assert!(wire::call(operation, &request).ok, "{name}");
        group.bench_function(name, |b| {
            b.iter(|| wire::call(operation, black_box(&request)));
        });
    }
    group.finish();
}

criterion_group!(benches, operations);
criterion_main!(benches);
