//! Criterion's view of the same cases: how they change from one version to the next.

use std::hint::black_box;

use criterion::{Criterion, Throughput, criterion_group, criterion_main};
use lixivium::{plan, wire};
use lixivium_benches::columns::{Frame, ROWS};
use lixivium_benches::{catalogue_request, leaving, plain, recipe, request};
use num_rational::{BigRational, Ratio};

fn plans(c: &mut Criterion) {
    let recipe = recipe();
    let doubles = plain::PlainRecipe::<f64>::of(&recipe).expect("nothing is left out");
    let narrow = plain::PlainRecipe::<Ratio<i128>>::of(&recipe).expect("nothing is left out");
    let big = plain::PlainRecipe::<BigRational>::of(&recipe).expect("nothing is left out");
    let (own, catalogue) = (request(), catalogue_request());
    let mut group = c.benchmark_group("plan");
    group.bench_function("f64", |b| b.iter(|| plain::plan(black_box(&doubles))));
    group.bench_function("typed", |b| b.iter(|| plan::plan(black_box(&recipe))));
    group.bench_function("typed, out as doubles", |b| {
        b.iter(|| plan::plan(black_box(&recipe)).map(|plan| leaving(&plan)));
    });
    group.bench_function("Ratio<i128>", |b| {
        b.iter(|| plain::plan(black_box(&narrow)))
    });
    group.bench_function("BigRational", |b| b.iter(|| plain::plan(black_box(&big))));
    group.bench_function("JSON", |b| b.iter(|| wire::call("plan", black_box(&own))));
    group.bench_function("JSON, catalogue", |b| {
        b.iter(|| wire::call("plan", black_box(&catalogue)));
    });
    group.finish();
}

fn columns(c: &mut Criterion) {
    let mut group = c.benchmark_group("columns");
    group.throughput(Throughput::Elements(ROWS as u64));
    for (name, mut frame) in [
        ("weighed", Frame::weighed()),
        ("computed", Frame::computed()),
        ("without a scale step", Frame::unrounded()),
    ] {
        group.bench_function(name, |b| b.iter(|| frame.plan()));
    }
    group.finish();
}

criterion_group!(benches, plans, columns);
criterion_main!(benches);
