//! What a student reads off the bench and enters.

use super::apparatus::Bench;
use super::settings::PartSettings;
use super::take::TakenRun;
use super::truth::TruePart;
use super::wish::Load;
use crate::lab::{
    ApparatusEntry, Configuration, Lab, ObjectEntry, ObjectId, PartEntry, Provenance, Record, RunEntry, RunId,
};
use crate::quantity::{Kilograms, Ratio};
use crate::runs::Motion;

impl Bench {
    /// The apparatus as the student's instruments read it: what is true, off by an error drawn from what the
    /// instrument may err, with the uncertainty that says so.
    pub fn apparatus(&self) -> ApparatusEntry {
        let (rig, instruments) = (self.truth.rig(), &self.settings.instruments);
        let stream = |what: &str| self.seed.stream(&format!("read {what}"));
        let tolerance_kg = instruments.hanging_tolerance_kg;
        ApparatusEntry {
            drum_radius: instruments.drum_radius_m.read(rig.drum_radius_m, &mut stream("drum")),
            string_diameter: instruments.string_diameter_m.read(rig.string_diameter_m, &mut stream("string")),
            gravity: instruments.gravity_m_per_s2.read(rig.gravity_m_per_s2, &mut stream("gravity")),
            spokes: Some(self.settings.pulley.spokes),
            travel_per_spoke: instruments
                .travel_per_spoke_m
                .read(rig.pulley.travel_per_spoke_m, &mut stream("travel")),
            mass_scale_uncertainty: Ratio(instruments.hanging_scale_u),
            // A rectangle of half width a: a/√3 (JCGM 100:2008, 4.3.7).
            hanging_mass_uncertainty: Kilograms(tolerance_kg / 3.0_f64.sqrt()),
            pulley_inertia: instruments
                .pulley_inertia_kg_m2
                .read(rig.pulley.inertia_kg_m2, &mut stream("pulley")),
            drop_height: instruments.drop_height_m.read(self.truth.drop_m, &mut stream("drop")),
        }
    }

    /// The objects, measured in the same way.
    pub fn objects(&self) -> Vec<ObjectEntry> {
        let objects = self.settings.objects.iter().zip(&self.truth.objects).enumerate();
        let entry =
            |(index, (settings, truth)): (usize, (&super::ObjectSettings, &super::truth::TrueObject))| {
                let parts = settings.parts.iter().zip(&truth.parts).enumerate();
                ObjectEntry {
                    id: ObjectId(u32::try_from(index + 1).unwrap_or(u32::MAX)),
                    name: settings.name.clone(),
                    parts: parts
                        .map(|(number, (part, truth))| self.part(index, number, part, truth))
                        .collect(),
                }
            };
        objects.map(entry).collect()
    }

    fn part(&self, object: usize, number: usize, part: &PartSettings, truth: &TruePart) -> PartEntry {
        let instruments = &self.settings.instruments;
        let mut random = self.seed.stream(&format!("read objects[{object}].parts[{number}]"));
        PartEntry {
            shape: part.shape,
            count: part.count,
            mass: instruments.object_mass_kg.read(truth.mass_kg, &mut random),
            dimensions: truth
                .dimensions_m
                .iter()
                .map(|length| instruments.object_length_m.read(*length, &mut random))
                .collect(),
            offset: truth.offset_m.and_then(|offset| instruments.object_length_m.read(offset, &mut random)),
        }
    }

    /// A lab with apparatus and objects entered, and no run yet; marked as simulated.
    pub fn lab(&self) -> Lab {
        let mut lab = Lab::default();
        lab.title = whorl_words::bench::lab_title(&self.settings.title, &self.seed.code());
        lab.provenance = Provenance::Simulated;
        lab.apparatus = self.apparatus();
        for object in self.objects() {
            lab.add_object(object.name, object.parts);
        }
        lab
    }

    /// Enters a run into a lab that began as [`Bench::lab`]. Nothing where no edge was written.
    pub fn enter(&self, lab: &mut Lab, run: &TakenRun) -> Option<RunId> {
        let configuration = match run.wish.load {
            Load::Empty => Configuration::EmptyTable,
            Load::Object(index) => Configuration::Loaded(lab.objects().get(index)?.id),
        };
        Some(lab.add_run(RunEntry {
            id: RunId(0),
            name: whorl_words::bench::run_name(&run.number),
            configuration,
            hanging_mass: Some(Kilograms(run.stamped_mass_kg)),
            motion: Motion::Falling,
            stretch: None,
            record: Record::Readings(run.readings()?),
            source: None,
        }))
    }

    /// A lab with these runs.
    pub fn lab_of(&self, runs: &[TakenRun]) -> Lab {
        let mut lab = self.lab();
        for run in runs {
            self.enter(&mut lab, run);
        }
        lab
    }

    /// A whole lab: so many usual runs of the empty table and of an object, numbered from 1.
    pub fn whole_lab(&self, object: usize, runs: usize) -> Lab {
        self.lab_of(&self.usual_runs(object, runs))
    }

    /// The runs of [`Bench::whole_lab`].
    pub fn usual_runs(&self, object: usize, runs: usize) -> Vec<TakenRun> {
        let loads = [Load::Empty, Load::Object(object)];
        let wishes = loads.into_iter().flat_map(|load| {
            self.usual_masses(load, runs).into_iter().map(move |mass| super::Wish::usual(load, mass))
        });
        (1..).zip(wishes).filter_map(|(number, wish)| self.take(&wish, number)).collect()
    }
}
