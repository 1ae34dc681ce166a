//! The library against published figures, each named with its source.
//!
//! What is *independent* was measured or printed by somebody else: the worked titrations and the
//! table of pure triglycerides of Simmons and Appleton (1908), a teaching laboratory's data, the
//! printed factors of AOCS Cd 1c-85, the saponification equivalents of the 1908 handbook and the
//! two sets of measured oils. What was *computed* by another program from the same definitions
//! (`checks.tsv`, the neutralisation examples) checks the arithmetic, not the chemistry.

mod datasets;
mod densities;
mod handbook;
mod standards;
mod support;
mod worked_examples;
