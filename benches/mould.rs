//! Moulds: what it costs to size a batch, to tell how full a mould gets, to learn, to draw.

use std::hint::black_box;

use criterion::{Criterion, criterion_group, criterion_main};
use lixivium::wire;

/// Invented for the measurement: four fats by share, a scale step of 0.1 g; `rest` is what else
/// the recipe says.
fn recipe(rest: &str) -> String {
    format!(
        r#"{{"fats":[{{"fat":"olive-oil","share":45}},{{"fat":"coconut-oil","share":30}},{{"fat":"sesame-oil","share":15}},{{"fat":"castor-oil","share":10}}],"superfat":5,"water":{{"lye_concentration":33}},"scale_step":0.1{rest}}}"#
    )
}

fn moulds(c: &mut Criterion) {
    const MOULD: &str = r#""mould":{"cavities":{"count":12,"volume":100},"waste":"2 %"}"#;
    let sized = recipe(r#","total_fats":800"#);
    let fixed = r#","additives":[{"name":"sand","mass":30,"density":2.6}]"#;
    let fill = |batter: &str| format!(r#"{{{MOULD},"batter":{{{batter}}}}}"#);
    let plan = format!(r#""plan":{sized}"#);
    let seen = r#""full_cavities":10,"last_cavity":40"#;
    let cases = [
        ("a plan without a mould", "plan", sized.clone()),
        ("a plan for a mould", "plan", recipe(&format!(",{MOULD}"))),
        (
            "with an additive by mass",
            "plan",
            recipe(&format!("{fixed},{MOULD}")),
        ),
        ("fill, from a plan", "fill", fill(&plan)),
        ("fill, as seen", "fill", fill(&format!("{plan},{seen}"))),
        (
            "fill, from a mass and a density",
            "fill",
            fill(r#""mass":1100,"density":1.03"#),
        ),
        ("calibrate", "calibrate", fill(&format!("{plan},{seen}"))),
        ("picture", "picture", fill(seen)),
    ];
    let mut group = c.benchmark_group("mould");
    for (name, operation, request) in &cases {
        assert!(wire::call(operation, request).ok, "{name}");
        group.bench_function(*name, |b| {
            b.iter(|| wire::call(operation, black_box(request)))
        });
    }
    group.finish();
}

criterion_group!(benches, moulds);
criterion_main!(benches);
