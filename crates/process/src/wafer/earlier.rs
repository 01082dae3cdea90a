//! What a section still has in common with the one that it came from.

use super::section::Section;

impl Section {
    /// Whether the silicon is as in `earlier`, a section from which this one came: its surface
    /// and its doping. Where that is not known at a glance the answer is no.
    #[must_use]
    pub fn has_silicon_of(&self, earlier: &Self) -> bool {
        let mut lists = self.silicon_cm3.iter().zip(&earlier.silicon_cm3);
        let tops_nm = |section: &Self| -> Vec<f64> {
            section.columns.iter().map(|column| column.silicon_top_nm).collect()
        };
        lists.all(|(now, then)| now.is_still(then))
            && self.edges_nm == earlier.edges_nm
            && tops_nm(self) == tops_nm(earlier)
    }
}

#[cfg(test)]
mod tests {
    use super::super::section::Swept;
    use super::*;
    use crate::vocabulary::Dopant;

    #[test]
    fn silicon_is_the_same_until_it_goes_or_is_doped() {
        let depths_nm = vec![0.0, 10.0, 20.0, 40.0];
        let edges_nm = vec![0.0, 100.0, 250.0];
        let earlier = Section::bare(edges_nm, depths_nm, (Dopant::Boron, 1e16));
        let copy = earlier.clone();
        assert!(copy.has_silicon_of(&earlier));
        let mut lower = earlier.clone();
        lower.lower_silicon(1, -3.0, Swept::Removed);
        assert!(!lower.has_silicon_of(&earlier));
        let mut doped = earlier.clone();
        doped.silicon_cm3_mut(Dopant::Phosphorus)[2] = 1e17;
        assert!(!doped.has_silicon_of(&earlier));
        let mut split = earlier.clone();
        assert!(split.split_at(40.0));
        assert!(!split.has_silicon_of(&earlier));
    }
}
