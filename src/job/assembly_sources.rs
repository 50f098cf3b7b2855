//! Where the values of one assembly come from: each key once, whether it is its own or of the one that it is like.

use super::defaults::JOB_FILE;
use super::rules::Assembly;
use crate::model::Assumption;

/// The values that an assembly lists, by key.
pub(super) struct Sources {
    name: String,
    list: Vec<Assumption>,
}

impl Sources {
    /// Those of the assembly that another is like, under the other's name; none where it is like no other.
    pub(super) fn inherited(name: &str, base: Option<&Assembly>) -> Self {
        let mut sources = Self { name: name.to_owned(), list: Vec::new() };
        let Some(base) = base else { return sources };
        sources.set("like", base.name.clone(), JOB_FILE);
        let prefix = format!("assembly.{}.", base.name);
        for of_base in &base.sources {
            if let Some(own) = of_base.key.strip_prefix(&prefix).filter(|own| *own != "like") {
                let key = sources.key(own);
                sources.list.push(Assumption { key, ..of_base.clone() });
            }
        }
        sources
    }

    /// Takes a value in place of the one of the same key.
    pub(super) fn set(&mut self, key: &str, value: String, source: &str) {
        let key = self.key(key);
        let given = Assumption { key, value, unit: String::new(), source: source.to_owned() };
        match self.list.iter_mut().find(|one| one.key == given.key) {
            Some(one) => *one = given,
            None => self.list.push(given),
        }
    }

    /// Takes out what no longer holds, since another key says otherwise.
    pub(super) fn remove(&mut self, key: &str) {
        let key = self.key(key);
        self.list.retain(|one| one.key != key);
    }

    /// All of them, in the order in which they were first said.
    pub(super) fn into_list(self) -> Vec<Assumption> {
        self.list
    }

    fn key(&self, key: &str) -> String {
        format!("assembly.{}.{key}", self.name)
    }
}

#[cfg(test)]
mod tests {
    use super::super::{Job, read_job};
    use super::*;
    use crate::fill::FillMethod;

    const BASE: &str = "[assembly.base]\nframing = \"2x4 @ 16 in\"\ndepth = \"3 3/4 in\"\nexisting = \"glass fibre batt 50 %\"\n\
                        displaced = { \"plaster keys\" = \"4 %\", pipes = \"1 %\" }\nsurveyed = true\nmethod = \"two holes\"\n\
                        layout.mid_blocking = 1\n[assembly.net]\nframing = \"2x10 @ 16 in\"\nbelow = \"netting\"\nnetting_bulge = \"1 in\"\n\
                        [assembly.open]\nframing = \"2x10 @ 16 in\"\nunvented = \"foam above the deck\"\n";

    fn job(lines: &str) -> Job {
        read_job("job.toml", &format!("{BASE}[assembly.kid]\n{lines}\n")).unwrap()
    }

    /// Values that an assembly lists, without its name before their keys.
    fn listed(assembly: &Assembly) -> Vec<(String, String)> {
        let own = assembly.sources.iter().map(|one| {
            (one.key.trim_start_matches(&format!("assembly.{}.", assembly.name)).to_owned(), one.value.clone())
        });
        own.filter(|(key, _)| key != "like").collect()
    }

    // An assembly that is like another and says nothing else is that other by another name.
    #[test]
    fn all_of_an_assembly_is_liked() {
        for (index, name) in ["base", "net", "open"].into_iter().enumerate() {
            let job = job(&format!("like = \"{name}\""));
            let (base, kid) = (&job.assemblies[index], job.assemblies.last().unwrap());
            assert_eq!(listed(kid), listed(base));
            let renamed = Assembly { name: base.name.clone(), sources: base.sources.clone(), ..kid.clone() };
            assert_eq!(&renamed, base);
        }
    }

    #[test]
    fn what_is_said_takes_the_place_of_what_is_liked_and_is_listed_once() {
        let of = |lines: &str, keys: &[&str]| {
            let kid = job(lines).assemblies.pop().unwrap();
            let listed = listed(&kid);
            let values =
                |key: &&str| listed.iter().filter(|(own, _)| own == key).map(|(_, value)| value.clone()).collect();
            let values: Vec<Vec<String>> = keys.iter().map(values).collect();
            (kid, values)
        };
        let share = |kid: &Assembly| kid.retrofit.displaced.iter().map(|one| one.share).sum::<f64>();
        let (kid, values) = of(
            "like = \"base\"\nexisting = \"none\"\ndisplaced = { pipes = \"2 %\" }",
            &["existing", "displaced.pipes"],
        );
        assert!(kid.retrofit.existing.is_none() && (share(&kid) - 0.06).abs() < 1e-12);
        assert_eq!(values, [vec![], vec!["2 %".to_owned()]]);
        let (kid, values) =
            of("like = \"base\"\ndisplaced = { pipes = \"0 %\" }\nsurveyed = false", &["displaced.pipes", "surveyed"]);
        assert!((share(&kid) - 0.04).abs() < 1e-12 && !kid.retrofit.is_surveyed);
        assert_eq!(values, [vec![] as Vec<String>, vec![]]);
        // A depth was measured in the framing that it stands beside; a bulge is that of netting.
        let (kid, values) = of("like = \"base\"\nframing = \"2x6 @ 16 in\"", &["depth", "framing"]);
        assert!((kid.framing.depth_m - 0.1397).abs() < 1e-12 && !kid.retrofit.is_depth_given);
        assert_eq!(values, [vec![], vec!["2x6 @ 16 in".to_owned()]]);
        let (kid, values) = of("like = \"net\"\nmethod = \"tube\"", &["netting_bulge", "method"]);
        assert_eq!((kid.method, kid.netting_bulge_m), (Some(FillMethod::Tube), None));
        assert_eq!(values, [vec![], vec!["tube".to_owned()]]);
        let (kid, values) = of("like = \"base\"\nnetting_bulge = \"1 in\"", &["method"]);
        assert_eq!((kid.method, values), (None, vec![vec![]]));
        let (kid, values) = of("like = \"open\"\nvent_gap = \"1 in\"", &["unvented", "vent_gap"]);
        assert!(kid.layout.enclosure.unvented.is_none());
        assert_eq!(values, [vec![], vec!["1 in".to_owned()]]);
    }
}
