//! Predicted moments of inertia against a textbook's worked numbers and against solids that a
//! geometry library integrated.

use core::num::NonZeroU32;
use whorl_core::bodies::{Body, Shape, predict};
use whorl_core::measured::Measured;
use whorl_core::quantity::{Kilograms, Meters};

/// Part of an object: shape, how many, mass in kg, dimensions in m, distance off axis in m.
type Part<'a> = (Shape, u32, f64, &'a [f64], Option<f64>);

fn body(&(shape, count, mass, dimensions, offset): &Part<'_>) -> Body {
    let meters = |value: f64| Measured::new(Meters(value), Meters(0.0)).ok();
    let mass = Measured::new(Kilograms(mass), Kilograms(0.0)).ok();
    let dimensions: Vec<_> = dimensions.iter().copied().map(meters).collect();
    Body::new(shape, NonZeroU32::new(count).unwrap(), mass, &dimensions, offset.and_then(meters)).unwrap()
}

fn moment(parts: &[Part<'_>]) -> f64 {
    let bodies: Vec<Body> = parts.iter().map(body).collect();
    predict(&bodies).unwrap().moment_of_inertia.value().0
}

/// Asserts the moment to half a unit of the last digit printed.
#[track_caller]
fn prints_as(parts: &[Part<'_>], printed: &str) {
    let decimals = printed.split_once('.').map_or(0, |(_, decimals)| decimals.len());
    let found = moment(parts);
    assert_eq!(format!("{found:.decimals$}"), printed, "{found} kg·m²");
}

#[test]
fn worked_examples_of_the_textbook_come_out_as_printed() {
    // OpenStax, University Physics vol. 1, chapter 10; numbers as printed there.
    // 10.4, washers: six of 20 g at ±5, ±15 and ±25 cm; then without the inner two.
    let washers =
        |distance: &'static [f64]| -> Part<'static> { (Shape::PointMass, 2, 0.020, distance, None) };
    prints_as(&[washers(&[0.05]), washers(&[0.15]), washers(&[0.25])], "0.0035");
    prints_as(&[washers(&[0.15]), washers(&[0.25])], "0.0034");
    // 10.4, helicopter: four blades of 50.0 kg and 4.00 m, rods about one end.
    prints_as(&[(Shape::RodEnd, 4, 50.0, &[4.0], None)], "1067");
    // 10.4, baton: 1.0 kg and 0.7 m about its middle.
    prints_as(&[(Shape::RodMiddle, 1, 1.0, &[0.7], None)], "0.041");
    // 10.4, disk of 2.0 kg and 0.50 m with an annular cylinder of 1.0 kg, 0.20 and 0.30 m.
    let disk = (Shape::Disc, 1, 2.0, &[0.50][..], None);
    prints_as(&[disk, (Shape::Ring, 1, 1.0, &[0.20, 0.30], None)], "0.315");
    // 10.5, merry-go-round: a child of 25 kg at 1.0 m on a disk of 500 kg and 2.0 m.
    let child = (Shape::PointMass, 1, 25.0, &[1.0][..], None);
    prints_as(&[child, (Shape::Disc, 1, 500.0, &[2.0], None)], "1025");
    // 10.5, rod of 2.0 kg and 0.5 m about its end with a sphere of 1.0 kg and 0.20 m: its center
    // at 0.7 m, then at 0.2 m.
    let rod = (Shape::RodEnd, 1, 2.0, &[0.5][..], None);
    prints_as(&[rod, (Shape::Sphere, 1, 1.0, &[0.20], Some(0.70))], "0.673");
    prints_as(&[rod, (Shape::Sphere, 1, 1.0, &[0.20], Some(0.20))], "0.223");
    // 10.7, merry-go-round: disk of 50.0 kg and 1.50 m; a child of 18.0 kg at 1.25 m.
    let disk = (Shape::Disc, 1, 50.0, &[1.50][..], None);
    prints_as(&[disk], "56.25");
    prints_as(&[disk, (Shape::PointMass, 1, 18.0, &[1.25], None)], "84.38");
    // 10.8, skater as a cylinder of 60.0 kg and 0.110 m; with arms out, 52.5 kg and two rods of
    // 3.75 kg and 0.900 m about their ends.
    prints_as(&[(Shape::Disc, 1, 60.0, &[0.110], None)], "0.363");
    let arms = (Shape::RodEnd, 2, 3.75, &[0.900][..], None);
    prints_as(&[(Shape::Disc, 1, 52.5, &[0.110], None), arms], "2.34");
    // College Physics 2e, grindstone of 85.0 kg and 0.320 m.
    prints_as(&[(Shape::Disc, 1, 85.0, &[0.320], None)], "4.352");
}

#[test]
fn a_grindstone_s_worked_accelerations_follow_from_its_moment() {
    // OpenStax, University Physics vol. 1, 10.7: disk of 75.0 kg and 0.280 m, 180 N at its rim, then
    // 20.0 N of friction at 1.50 cm against it: 50.4 N·m, 17.14 and 17.04 rad/s².
    let moment = moment(&[(Shape::Disc, 1, 75.0, &[0.280], None)]);
    let (torque, friction) = (180.0 * 0.280, 20.0 * 0.015);
    assert_eq!(format!("{torque:.1}"), "50.4");
    assert_eq!(format!("{:.2}", torque / moment), "17.14");
    assert_eq!(format!("{:.2}", (torque - friction) / moment), "17.04");
}

#[test]
fn every_shape_has_the_formula_of_the_textbook_s_table() {
    // OpenStax, University Physics vol. 1, figure 10.20 (nine of its ten rows and the point mass of
    // 10.4; the diameters of disks and hoops are not offered). With a mass of 60 kg and lengths of 1 m
    // (and 2 m for the second) every factor becomes a whole number.
    for (shape, dimensions, expected) in [
        (Shape::Disc, &[1.0][..], 30.0),       // M R²/2
        (Shape::Ring, &[1.0, 2.0], 150.0),     // M (R₁² + R₂²)/2
        (Shape::Hoop, &[1.0], 60.0),           // M R²
        (Shape::RodMiddle, &[1.0], 5.0),       // M L²/12
        (Shape::RodEnd, &[1.0], 20.0),         // M L²/3
        (Shape::Plate, &[1.0, 2.0], 25.0),     // M (a² + b²)/12
        (Shape::Sphere, &[1.0], 24.0),         // 2 M R²/5
        (Shape::SphericalShell, &[1.0], 40.0), // 2 M R²/3
        (Shape::PointMass, &[1.0], 60.0),      // M r²
    ] {
        let found = moment(&[(shape, 1, 60.0, dimensions, None)]);
        assert!((found - expected).abs() < 1e-13, "{}: {found}, expected {expected}", shape.words());
    }
    assert_eq!(Shape::ALL.len(), 9, "a new shape needs a row here");
}

#[test]
fn a_rod_about_a_third_of_its_length_is_7_36ths() {
    // OpenStax, University Physics vol. 1, 10.5: axis at L/3 from the center, (7/36) M L².
    let found = moment(&[(Shape::RodMiddle, 1, 36.0, &[3.0], Some(1.0))]);
    assert!((found - 7.0 * 9.0).abs() < 1e-13, "{found}");
}

#[test]
fn cylinder_and_hoop_about_a_line_on_their_surface_follow_the_parallel_axis_theorem() {
    // 3/2 M R² and 2 M R². The textbook's answer of (1/3) M R² (10.5, check your understanding) is an
    // erratum.
    for (shape, expected) in [(Shape::Disc, 1.5), (Shape::Hoop, 2.0)] {
        let found = moment(&[(shape, 1, 1.0, &[1.0], Some(1.0))]);
        assert!((found - expected).abs() < 1e-15, "{found}");
    }
}

/// How much smaller I/M of a regular 720-gon inscribed in a circle is: (2π/N)²/6, from the polygon's
/// second moment of area; and of an icosphere with 6 subdivisions: 9.02e-5, as measured on the mesh.
const POLYGON: f64 = 1.27e-5;
const ICOSPHERE: f64 = 9.03e-5;

#[test]
fn shapes_agree_with_solids_integrated_over_their_surfaces() {
    // I/M in m², integrated over triangle meshes by trimesh 5.2.0 (polyhedral mass properties). Meshes
    // of round bodies lie inside them, so ours must be larger, by no more than the facets explain.
    let disk = |offset| (Shape::Disc, 1, 1.0, &[0.125][..], offset);
    let slab = |offset| (Shape::Plate, 1, 1.0, &[0.30, 0.05][..], offset);
    let sphere = |offset| (Shape::Sphere, 1, 1.0, &[0.05][..], offset);
    // Corner edge of the slab: (a/2, b/2) off its center.
    let corner = 0.15_f64.hypot(0.025);
    for (name, part, integrated, facets) in [
        ("disk, own axis", disk(None), 0.007_812_400_841_312_946, POLYGON),
        ("disk, 0.10 m off axis", disk(Some(0.10)), 0.017_812_400_841_312_95, POLYGON),
        ("ring", (Shape::Ring, 1, 1.0, &[0.05, 0.065][..], None), 0.003_362_457_322_101_093_3, POLYGON),
        ("slab, center", slab(None), 0.007_708_333_333_333_334, 0.0),
        ("slab, corner edge", slab(Some(corner)), 0.030_833_333_333_333_334, 0.0),
        ("sphere, center", sphere(None), 0.000_999_909_842_785_518, ICOSPHERE),
        ("sphere, 0.12 m off axis", sphere(Some(0.12)), 0.015_399_909_842_785_518, ICOSPHERE),
    ] {
        const ROUNDING: f64 = 1e-15;
        let larger_by = moment(&[part]) / integrated - 1.0;
        assert!((-ROUNDING..=facets + ROUNDING).contains(&larger_by), "{name}: {larger_by:e}");
    }
}

#[test]
fn a_slender_rod_leaves_out_what_its_thickness_adds() {
    // A round rod of 380 mm and 6 mm diameter, integrated as above: r²/4 comes on top of L²/12.
    let found = moment(&[(Shape::RodMiddle, 1, 1.0, &[0.38], None)]);
    let added = 0.012_035_583_304_775_636 - found;
    let expected = 0.003_f64.powi(2) / 4.0;
    assert!((0.0..=POLYGON).contains(&(1.0 - added / expected)), "{added:e}, expected {expected:e}");
}

#[test]
fn composite_bodies_agree_with_the_sum_of_integrated_solids() {
    use core::f64::consts::PI;
    // Bodies of one density, so that volumes stand for masses and I/M in m² is compared; integrated as
    // above. A table of 125 mm radius and 12 mm, with a ring on it; with two posts, one of them at
    // (−60 mm, 80 mm); a bar with a sphere at either end, of which only the spheres have facets.
    let table = (Shape::Disc, 1, PI * 0.125_f64.powi(2) * 0.012, &[0.125][..], None);
    let ring_volume = PI * (0.065_f64.powi(2) - 0.05_f64.powi(2)) * 0.022;
    let ring = (Shape::Ring, 1, ring_volume, &[0.05, 0.065][..], None);
    let posts = (Shape::Disc, 2, PI * 0.01_f64.powi(2) * 0.04, &[0.01][..], Some(0.10));
    let bar = (Shape::Plate, 1, 0.30 * 0.05 * 0.012, &[0.30, 0.05][..], None);
    let balls = (Shape::Sphere, 2, 4.0 / 3.0 * PI * 0.02_f64.powi(3), &[0.02][..], Some(0.17));
    for (name, parts, integrated, facets) in [
        ("table and ring", [table, ring], 0.007_063_341_819_116_939, POLYGON),
        ("table and two posts", [table, posts], 0.007_903_964_975_290_294, POLYGON),
        ("bar with two balls", [bar, balls], 0.013_500_806_501_480_521, ICOSPHERE),
    ] {
        let mass: f64 = parts.iter().map(|part| f64::from(part.1) * part.2).sum();
        let larger_by = moment(&parts) / mass / integrated - 1.0;
        assert!((0.0..=facets).contains(&larger_by), "{name}: {larger_by:e}");
    }
}

#[test]
fn the_uncertainty_of_a_prediction_is_that_of_its_masses_and_lengths() {
    // JCGM 100:2008 5.1.2 by hand: ring of 1.105(1) kg, 60.0(2) and 75.0(2) mm:
    // I = 5.096 812 5e-3; ∂I/∂M = 4.6125e-3 m², ∂I/∂r₁ = M r₁ = 0.0663, ∂I/∂r₂ = M r₂ = 0.082 875 kg·m;
    // u = √((4.6125e-6)² + (1.326e-5)² + (1.6575e-5)²) = 2.172 17e-5 kg·m².
    let measured = |value, u| Measured::new(Meters(value), Meters(u)).ok();
    let mass = Measured::new(Kilograms(1.105), Kilograms(0.001)).ok();
    let dimensions = [measured(0.06, 0.0002), measured(0.075, 0.0002)];
    let ring = Body::new(Shape::Ring, NonZeroU32::MIN, mass, &dimensions, None).unwrap();
    let found = ring.moment_of_inertia().unwrap();
    assert!((found.value().0 - 5.096_812_5e-3).abs() < 1e-16);
    assert!((found.standard_uncertainty().0 - 2.172_17e-5).abs() < 5e-11);
}
