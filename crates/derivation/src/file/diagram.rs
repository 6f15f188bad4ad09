//! Steps answered by placing arrows.

use super::{place_of, prose, prose_or_none};
use crate::diagram::{DiagramTask, Direction, Force, LengthRule, Needed, Place, Scene, SceneShape};
use crate::symbols::Symbols;
use whorl_document::Node;
use whorl_words as words;

/// A scene is a square of this size.
const SIDE: f64 = 100.0;

pub(super) fn task(node: &Node<'_>, symbols: &Symbols) -> DiagramTask {
    node.only(&["scene", "forces", "places", "needed", "lengths"]);
    let forces = node.field("forces").list(&|item| force(item, symbols));
    let points = node.field("places").list(&place);
    let find_force = |node: &Node<'_>| {
        place_of(node, &mut forces.iter().map(|force| force.id.as_str()), words::derivations::no_such_force)
    };
    let needed = node.field("needed").list(&|node| {
        node.only(&["force", "optional", "direction", "at", "missing", "wrong_direction", "wrong_place"]);
        let force = find_force(&node.field("force"));
        let toward = direction(&node.field("direction"));
        let turns = forces.get(force).is_some_and(|force| force.turns);
        if toward.turns() != turns {
            let expected = if turns {
                words::derivations::turning_direction()
            } else {
                words::derivations::force_does_not_turn()
            };
            node.field("direction").wrong(expected);
        }
        let find_place = |item: &Node<'_>| {
            place_of(
                item,
                &mut points.iter().map(|place| place.id.as_str()),
                words::derivations::no_such_place,
            )
        };
        let places = node.field("at").list(&find_place);
        if places.is_empty() {
            node.field("at").wrong(words::derivations::places_expected());
        }
        Needed {
            force,
            optional: node.field("optional").flag().unwrap_or(false),
            direction: toward,
            places,
            missing: prose(&node.field("missing"), symbols),
            wrong_direction: prose(&node.field("wrong_direction"), symbols),
            wrong_place: prose(&node.field("wrong_place"), symbols),
        }
    });
    if needed.is_empty() {
        node.field("needed").wrong(words::derivations::arrows_expected());
    }
    for ((index, force), item) in forces.iter().enumerate().zip(node.field("forces").items()) {
        if force.invented.is_empty() && !needed.iter().any(|needed| needed.force == index) {
            item.field("invented").wrong(words::derivations::invented_force());
        }
    }
    let lengths = node.field("lengths").list(&|node| {
        node.only(&["shorter", "longer", "say"]);
        LengthRule {
            shorter: find_force(&node.field("shorter")),
            longer: find_force(&node.field("longer")),
            say: prose(&node.field("say"), symbols),
        }
    });
    DiagramTask { scene: scene(&node.field("scene")), forces, points, needed, lengths }
}

fn direction(node: &Node<'_>) -> Direction {
    Direction::from_key(&node.required_text()).unwrap_or_else(|| {
        let all: Vec<&str> = Direction::ALL.into_iter().map(Direction::key).collect();
        node.wrong(&words::derivations::direction_expected(&all.join(", ")));
        Direction::Up
    })
}

fn force(node: &Node<'_>, symbols: &Symbols) -> Force {
    node.only(&["id", "name", "turns", "invented"]);
    Force {
        id: node.field("id").required_text(),
        name: node.field("name").required_text(),
        turns: node.field("turns").flag().unwrap_or(false),
        invented: prose_or_none(&node.field("invented"), symbols),
    }
}

fn place(node: &Node<'_>) -> Place {
    node.only(&["id", "name", "x", "y"]);
    Place {
        id: node.field("id").required_text(),
        name: node.field("name").required_text(),
        x: coordinate(node, "x"),
        y: coordinate(node, "y"),
    }
}

fn scene(node: &Node<'_>) -> Scene {
    node.only(&["told", "shapes"]);
    Scene { told: node.field("told").required_text(), shapes: node.field("shapes").list(&shape) }
}

fn shape(node: &Node<'_>) -> SceneShape {
    let number = |name: &str| coordinate(node, name);
    let point = |x: &str, y: &str| (number(x), number(y));
    let kind = node.field("shape");
    match kind.required_text().as_str() {
        "rectangle" => SceneShape::Rectangle {
            x: number("x"),
            y: number("y"),
            width: number("width"),
            height: number("height"),
        },
        "circle" => SceneShape::Circle { x: number("x"), y: number("y"), radius: number("radius") },
        "moving" => SceneShape::Moving { from: point("x1", "y1"), to: point("x2", "y2") },
        "words" => {
            SceneShape::Words { x: number("x"), y: number("y"), text: node.field("text").required_text() }
        }
        "turning" => SceneShape::Turning {
            x: number("x"),
            y: number("y"),
            radius: number("radius"),
            direction: direction(&node.field("direction")),
        },
        other => {
            if other != "line" {
                kind.wrong(words::derivations::shape_expected());
            }
            SceneShape::Line { from: point("x1", "y1"), to: point("x2", "y2") }
        }
    }
}

fn coordinate(node: &Node<'_>, name: &str) -> f64 {
    let place = node.field(name);
    let number = place.number().filter(|number| (0.0..=SIDE).contains(number));
    number.unwrap_or_else(|| {
        place.wrong(words::derivations::coordinate_expected());
        0.0
    })
}
