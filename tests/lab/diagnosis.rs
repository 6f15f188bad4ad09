//! What the diagnosis says of labs whose fault is known, and of labs that have none.

use crate::diagnosis_study::report;

#[test]
#[ignore = "the long version: minutes"]
fn all_rates_of_many_labs() {
    println!("{}", report(1000));
}
