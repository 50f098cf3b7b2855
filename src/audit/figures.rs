//! Our figures of the surfaces that a claim is about.

use super::Step;
use crate::fill::FillUse;
use crate::intake::claims::{Basis, Quantity};
use crate::takeoff::{FillTakeoff, SurfaceTakeoff, Takeoff};

/// The surfaces that a claim is about.
pub(super) struct Parts<'t> {
    pub takeoff: &'t Takeoff,
    /// Those that are in our figures.
    pub all: Vec<&'t SurfaceTakeoff>,
    /// Those that fit and are not counted, where more than one surface is meant.
    pub not_counted: Vec<&'t SurfaceTakeoff>,
}

/// A figure of ours: one for all parts together, or one a part.
#[derive(Clone, Debug, PartialEq)]
pub(super) struct Figure {
    /// The part; empty where the figure is of all together.
    pub part: String,
    /// The figure.
    pub value_si: f64,
    /// Lower and upper limit of its method, where it has such.
    pub limits_si: Option<(f64, f64)>,
}

impl<'t> Parts<'t> {
    /// Id and part: `O-S/2`.
    pub fn name(surface: &SurfaceTakeoff) -> String {
        match surface.part {
            0 => surface.id.clone(),
            part => format!("{}/{part}", surface.id),
        }
    }

    pub fn gross_m2(&self) -> f64 {
        self.all.iter().map(|surface| surface.gross_area_m2).sum()
    }

    pub fn openings_m2(&self) -> f64 {
        self.all.iter().map(|surface| surface.opening_area_m2).sum()
    }

    pub fn net_m2(&self) -> f64 {
        self.gross_m2() - self.openings_m2()
    }

    pub fn bay_m2(&self) -> f64 {
        self.all.iter().map(|surface| surface.bay_area_m2).sum()
    }

    pub fn bay_m3(&self) -> f64 {
        self.all.iter().filter_map(|surface| surface.bay_volume_m3).sum()
    }

    pub fn mass_kg(&self) -> f64 {
        self.all.iter().filter_map(|surface| surface.mass_kg).sum()
    }

    /// Why nothing about fill can be said; `None` where all parts are counted.
    pub fn reason_not_counted(&self) -> Option<String> {
        let idle = self.all.iter().find(|surface| !surface.counted)?;
        let reason = idle.reason.clone().unwrap_or_else(|| "no reason is given".to_owned());
        Some(format!("{} is not counted: {reason}", Self::name(idle)))
    }

    /// Framing as a fraction of gross less openings, by volume.
    pub fn framing_fraction(&self) -> Option<f64> {
        let members_m3: f64 = self.all.iter().filter_map(|surface| surface.member_volume_m3).sum();
        let net = |surface: &&SurfaceTakeoff| Some(surface.gross_volume_m3? - surface.opening_volume_m3?);
        let net_m3: f64 = self.all.iter().filter_map(net).sum();
        if net_m3 > 0.0 { Some(members_m3 / net_m3) } else { None }
    }

    /// The entries of the fills that these parts are of, each with the mass of the parts.
    pub fn by_fill(&self) -> Vec<(&'t FillTakeoff, f64)> {
        let of = |fill: &'t FillTakeoff| {
            let parts = self.all.iter().filter(|surface| surface.fill.as_deref() == Some(&fill.name));
            let mass_kg: f64 = parts.filter_map(|surface| surface.mass_kg).sum();
            (fill, mass_kg)
        };
        let fills = self.takeoff.fills.iter().filter(|fill| fill.estimate.is_none());
        fills.map(of).filter(|(_, mass_kg)| *mass_kg > 0.0).collect()
    }

    /// Bags, before allowance: of the plan's own mass where it gives that, else of ours; the reason where neither is known.
    pub fn bags(&self, plans_bag_kg: Option<f64>) -> Result<f64, String> {
        if let Some(bag_kg) = plans_bag_kg {
            return Ok(self.mass_kg() / bag_kg);
        }
        let of = |(fill, mass_kg): &(&FillTakeoff, f64)| {
            fill.bag_kg
                .map(|bag_kg| mass_kg / bag_kg)
                .ok_or_else(|| format!("the net mass of a bag of {} is not known: `--bag` gives it", fill.name))
        };
        self.by_fill().iter().map(of).sum()
    }

    /// The greatest allowance of the fills.
    pub fn allowance(&self) -> f64 {
        self.by_fill().iter().map(|(fill, _)| fill.allowance).fold(0.0, f64::max)
    }

    /// Whether all parts are filled as closed cavities.
    pub fn is_closed(&self) -> bool {
        !self.all.is_empty() && self.all.iter().all(|surface| surface.r#use == Some(FillUse::ClosedCavity))
    }

    /// One figure a part, or why one has none.
    fn each(&self, of: impl Fn(&SurfaceTakeoff) -> Result<Figure, String>) -> Result<Vec<Figure>, String> {
        let named = |surface: &&SurfaceTakeoff| of(surface).map_err(|why| format!("{}: {why}", Self::name(surface)));
        self.all.iter().map(named).collect()
    }

    /// Our figures of a quantity, or why there are none.
    pub fn figures(
        &self,
        quantity: Quantity,
        basis: Option<Basis>,
        plans_bag_kg: Option<f64>,
    ) -> Result<Vec<Figure>, String> {
        let of_all = |value_si: f64| Ok(vec![Figure { part: String::new(), value_si, limits_si: None }]);
        let plain = |surface: &SurfaceTakeoff, value: Option<f64>, why: &str| {
            let value_si = value.ok_or_else(|| why.to_owned())?;
            Ok(Figure { part: Self::name(surface), value_si, limits_si: None })
        };
        match quantity {
            Quantity::GrossArea => return of_all(self.gross_m2()),
            Quantity::NetArea => return of_all(self.net_m2()),
            _ => {}
        }
        if let Some(reason) = self.reason_not_counted() {
            return Err(reason);
        }
        let is_fill = matches!(quantity, Quantity::Mass | Quantity::Bags | Quantity::Density);
        let is_estimate = |part: &&&SurfaceTakeoff| part.r#use == Some(FillUse::OpenBlown) && part.label.is_none();
        if let Some(part) = self.all.iter().find(is_estimate).filter(|_| is_fill) {
            let name = Self::name(part);
            return Err(format!("{name} is open-blown, and no label's table says what it takes: an estimate alone"));
        }
        match quantity {
            Quantity::GrossArea | Quantity::NetArea => of_all(self.net_m2()),
            Quantity::BayArea => of_all(self.bay_m2()),
            Quantity::Mass => of_all(self.mass_kg()),
            Quantity::Bags => of_all(self.bags(plans_bag_kg)?),
            Quantity::FramingFraction => {
                of_all(self.framing_fraction().ok_or_else(|| "no framing was laid out".to_owned())?)
            }
            Quantity::Depth => self.each(|surface| plain(surface, surface.depth_m, "its depth is not known")),
            Quantity::Density => self.each(|surface| plain(surface, surface.density_kg_m3, "it has no density")),
            Quantity::SettledThickness => self.each(|surface| {
                plain(surface, surface.open_blown.as_ref().map(|open| open.settled_m), "it is not open-blown")
            }),
            Quantity::InitialThickness => self.each(|surface| {
                let initial_m = surface.open_blown.as_ref().and_then(|open| open.initial_m);
                plain(surface, initial_m, "its initial thickness is not known: the label's table gives it")
            }),
            Quantity::BagMass => {
                let of = |(fill, _): &(&FillTakeoff, f64)| {
                    let value_si = fill.bag_kg.ok_or_else(|| format!("no bag of {} is known", fill.name))?;
                    Ok(Figure { part: fill.name.clone(), value_si, limits_si: None })
                };
                self.by_fill().iter().map(of).collect()
            }
            Quantity::RValue => self.each(|surface| resistance(surface, basis)),
            Quantity::UValue => {
                let of = |figure: Figure| Figure {
                    value_si: 1.0 / figure.value_si,
                    limits_si: figure.limits_si.map(|(least, most)| (1.0 / most, 1.0 / least)),
                    ..figure
                };
                Ok(self.each(|surface| resistance(surface, basis))?.into_iter().map(of).collect())
            }
        }
    }

    /// The steps to a figure.
    pub fn derivation(&self, quantity: Quantity, plans_bag_kg: Option<f64>) -> Vec<Step> {
        let mut steps = vec![Step::new("gross area", self.gross_m2(), "m2")];
        let is_area = matches!(quantity, Quantity::GrossArea | Quantity::NetArea | Quantity::BayArea);
        let is_fill = matches!(quantity, Quantity::Mass | Quantity::Bags);
        if !is_area && !is_fill && quantity != Quantity::FramingFraction {
            return self.all.iter().take(6).flat_map(|surface| own_steps(surface, quantity)).collect();
        }
        if quantity != Quantity::GrossArea {
            steps.push(Step::new("less openings", self.openings_m2(), "m2"));
        }
        if matches!(quantity, Quantity::BayArea | Quantity::FramingFraction) || is_fill {
            let sum = |of: fn(&SurfaceTakeoff) -> f64| self.all.iter().map(|surface| of(surface)).sum::<f64>();
            steps.push(Step::new("less members", sum(|surface| surface.member_area_m2), "m2"));
            steps.push(Step::new("less left out", sum(|surface| surface.left_out_area_m2), "m2"));
            steps.push(Step::new("bays", self.bay_m2(), "m2"));
        }
        if is_fill {
            steps.push(Step::new("volume of the bays", self.bay_m3(), "m3"));
            steps.push(Step::new("mass at the density of each", self.mass_kg(), "kg"));
        }
        if quantity == Quantity::Bags {
            let own = |(fill, _): (&FillTakeoff, f64)| Some((format!("bag of {}", fill.name), fill.bag_kg?));
            let bags = match plans_bag_kg {
                Some(bag_kg) => vec![("bag of the plan".to_owned(), bag_kg)],
                None => self.by_fill().into_iter().filter_map(own).collect(),
            };
            steps.extend(bags.into_iter().map(|(what, bag_kg)| Step::new(what, bag_kg, "kg")));
            steps.push(Step::new("allowance on top, in the order alone", self.allowance(), "1"));
        }
        steps
    }
}

/// A resistance of a part, by its basis.
fn resistance(surface: &SurfaceTakeoff, basis: Option<Basis>) -> Result<Figure, String> {
    let part = Parts::name(surface);
    if basis == Some(Basis::WholeAssembly) {
        let heat = surface.heat.as_ref().ok_or_else(|| {
            let why = surface.heat_reason.clone().unwrap_or_else(|| "it was not computed".to_owned());
            let unlike = if surface.label.is_some() {
                "; the label's R is of the fill alone, and unlike bases are not compared"
            } else {
                ""
            };
            format!("no R of the whole assembly: {why}{unlike}")
        })?;
        let limits_si = Some((heat.isothermal_planes.r_m2k_w, heat.parallel_path.r_m2k_w));
        return Ok(Figure { part, value_si: heat.combined.r_m2k_w, limits_si });
    }
    match &surface.label {
        Some(label) if label.is_printed => Ok(Figure { part, value_si: label.r_m2k_w, limits_si: None }),
        Some(_) => Err("it lies between two printed rows of the label, which prints no R for it".to_owned()),
        None => {
            let unlike = if surface.heat.is_some() {
                "; our R is of the whole assembly, and unlike bases are not compared"
            } else {
                ""
            };
            Err(format!("no coverage table of a label reaches it{unlike}"))
        }
    }
}

fn own_steps(surface: &SurfaceTakeoff, quantity: Quantity) -> Vec<Step> {
    let name = Parts::name(surface);
    let mut steps = Vec::new();
    let assembly = surface.assembly.as_deref().unwrap_or("framing not known");
    match quantity {
        Quantity::Depth => {
            steps.extend(surface.depth_m.map(|depth| Step::new(format!("depth of {name} ({assembly})"), depth, "m")));
        }
        Quantity::Density => {
            let fill = surface.fill.as_deref().unwrap_or("fill");
            let density = surface.density_kg_m3;
            steps.extend(density.map(|density| Step::new(format!("{fill} in {name}"), density, "kg/m3")));
        }
        Quantity::SettledThickness | Quantity::InitialThickness => {
            if let Some(open) = &surface.open_blown {
                steps.push(Step::new(format!("settled thickness of {name}"), open.settled_m, "m"));
                let initial = open.initial_m;
                steps.extend(initial.map(|initial| Step::new(format!("initial thickness of {name}"), initial, "m")));
            }
        }
        Quantity::RValue | Quantity::UValue => {
            if let Some(heat) = &surface.heat {
                let steps_of = [
                    ("isothermal planes", heat.isothermal_planes.r_m2k_w),
                    ("parallel path", heat.parallel_path.r_m2k_w),
                    ("combined", heat.combined.r_m2k_w),
                ];
                steps.extend(steps_of.map(|(what, r)| Step::new(format!("{name}, {what}"), r, "m2K/W")));
            } else if let Some(label) = &surface.label {
                steps.push(Step::new(format!("{name}, by {}", label.source), label.r_m2k_w, "m2K/W"));
            }
        }
        _ => {}
    }
    steps
}
