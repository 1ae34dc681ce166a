//! `handbook_saponification_1908.tsv`: saponification equivalents of commercial fats, measured
//! and printed long before any of the standards (Simmons and Appleton, The Handbook of Soap
//! Manufacture, London 1908, chapter III). Independent of the ranges they are compared with.

use lixivium::chemistry::saponification;
use lixivium::fats::{Fat, find};

use crate::support::{assert_near, table};

/// What the catalogue has under another source than the handbook.
const FATS: [(&str, &str); 22] = [
    ("tallow, Australian mutton", "beef-tallow"),
    ("tallow, Australian beef", "beef-tallow"),
    ("tallow, South American beef", "beef-tallow"),
    ("tallow, North American ordinary", "beef-tallow"),
    ("tallow, town", "beef-tallow"),
    ("lard (American hog fat)", "lard"),
    ("coconut oil, ten commercial lots", "coconut-oil"),
    ("palm-kernel (palm-nut) oil", "palm-kernel-oil"),
    ("olive oil", "olive-oil"),
    ("palm oil, crude", "palm-oil"),
    ("cottonseed oil, refined", "cottonseed-oil"),
    ("arachis oil, commercial", "peanut-oil"),
    ("arachis oil, refined", "peanut-oil"),
    ("maize oil", "corn-oil"),
    ("sesame oil", "sesame-oil"),
    ("linseed oil", "linseed-oil"),
    ("hemp-seed oil", "hemp-seed-oil"),
    ("sunflower oil", "sunflower-oil"),
    ("castor oil", "castor-oil"),
    ("shea butter", "shea-butter"),
    ("kokum (Goa) butter", "kokum-butter"),
    ("safflower oil, average of twelve", "safflower-oil"),
];

/// Of the 44 values compared, those outside the range of the standard: material, which of its two
/// values, what it is. The book gives no reason; they are kept as they are.
const OUTSIDE: [(&str, usize, &str); 5] = [
    // 1.4 below 189 to 198; the other lot, 193.5, is inside
    ("cottonseed oil, refined", 2, "187.6"),
    // 0.9 above 187 to 196; the commercial oil, 188.3, is inside
    ("arachis oil, refined", 1, "196.9"),
    ("arachis oil, refined", 2, "196.9"),
    // 1.7 above 184 to 190, a paper on three zones of Pakistan; its own composition gives 192.6
    ("hemp-seed oil", 1, "191.7"),
    ("hemp-seed oil", 2, "191.7"),
];

#[test]
fn equivalents_of_1908_fall_into_the_ranges_of_the_standards() {
    let rows = table("handbook_saponification_1908.tsv");
    assert_eq!(rows.len(), 33);
    let mut compared = 0;
    let mut outside = Vec::new();
    for row in &rows {
        let material = row.text("material");
        for which in [1, 2] {
            let equivalent = row.number(&format!("saponification_equivalent_{which}"));
            let value = saponification::of_equivalent(&equivalent).unwrap();
            // The book takes 56.1 g/mol for KOH.
            let printed = row.number(&format!("saponification_value_{which}"));
            assert_near(material, &value, &printed, "0.1");
            let known = FATS.iter().find(|(m, _)| *m == material);
            let Some((_, id)) = known else { continue };
            let range = Fat::from(find(id).unwrap())
                .saponification_value()
                .range()
                .unwrap();
            compared += 1;
            if !range.contains(&value) {
                outside.push((material, which, value.to_fixed(1)));
            }
        }
    }
    assert_eq!(compared, 44);
    let outside: Vec<_> = outside
        .iter()
        .map(|(m, w, v)| (*m, *w, v.as_str()))
        .collect();
    assert_eq!(outside, OUTSIDE);
}
