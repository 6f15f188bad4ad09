//! Steps answered by placing arrows.

use super::{prose, prose_or_none};
use crate::diagram::{DiagramTask, Direction, Force, LengthRule, Needed, Place, Scene, SceneShape};
use crate::symbols::Symbols;
use whorl_document::{Node, Wrong};

/// A scene is a square of this size.
const SIDE: f64 = 100.0;

pub(super) fn task(node: &Node<'_>, symbols: &Symbols) -> Result<DiagramTask, Wrong> {
    node.only(&["scene", "forces", "places", "needed", "lengths"])?;
    let forces: Vec<Force> = node.field("forces").list(&|item| force(item, symbols))?;
    let points: Vec<Place> = node.field("places").list(&place)?;
    let find_force = |node: &Node<'_>| {
        let id = node.required_text()?;
        let found = forces.iter().position(|force| force.id == id);
        found.ok_or_else(|| node.wrong("there is no force of this id"))
    };
    let needed = |node: &Node<'_>| {
        node.only(&["force", "optional", "direction", "at", "missing", "wrong_direction", "wrong_place"])?;
        let force = find_force(&node.field("force"))?;
        let at = direction(&node.field("direction"))?;
        let turns = forces.get(force).is_some_and(|force| force.turns);
        if at.turns() != turns {
            let expected =
                if turns { "expected clockwise or anticlockwise" } else { "this force does not turn" };
            return Err(node.field("direction").wrong(expected));
        }
        let place_of = |item: &Node<'_>| {
            let id = item.required_text()?;
            let found = points.iter().position(|place| place.id == id);
            found.ok_or_else(|| item.wrong("there is no place of this id"))
        };
        let places = node.field("at").list(&place_of)?;
        if places.is_empty() {
            return Err(node.field("at").wrong("expected a list of places"));
        }
        Ok(Needed {
            force,
            optional: node.field("optional").flag()?.unwrap_or(false),
            direction: at,
            places,
            missing: prose(&node.field("missing"), symbols)?,
            wrong_direction: prose(&node.field("wrong_direction"), symbols)?,
            wrong_place: prose(&node.field("wrong_place"), symbols)?,
        })
    };
    let needed: Vec<Needed> = node.field("needed").list(&needed)?;
    if needed.is_empty() {
        return Err(node.field("needed").wrong("expected a list of the arrows that have to be there"));
    }
    let unexplained = (0..forces.len()).find(|&index| {
        forces.get(index).is_some_and(|force| force.invented.is_empty())
            && !needed.iter().any(|needed| needed.force == index)
    });
    if let Some(index) = unexplained {
        let place = node.field("forces").items()?;
        let wrong = place.get(index).unwrap_or(node).field("invented");
        return Err(wrong.wrong("a force that is not needed must say why it does not belong here"));
    }
    let length = |node: &Node<'_>| {
        node.only(&["shorter", "longer", "say"])?;
        Ok(LengthRule {
            shorter: find_force(&node.field("shorter"))?,
            longer: find_force(&node.field("longer"))?,
            say: prose(&node.field("say"), symbols)?,
        })
    };
    let lengths = node.field("lengths").list(&length)?;
    Ok(DiagramTask { scene: scene(&node.field("scene"))?, forces, points, needed, lengths })
}

fn direction(node: &Node<'_>) -> Result<Direction, Wrong> {
    Direction::from_key(&node.required_text()?).ok_or_else(|| {
        let all: Vec<&str> = Direction::ALL.into_iter().map(Direction::key).collect();
        node.wrong(&format!("expected one of {}", all.join(", ")))
    })
}

fn force(node: &Node<'_>, symbols: &Symbols) -> Result<Force, Wrong> {
    node.only(&["id", "name", "turns", "invented"])?;
    Ok(Force {
        id: node.field("id").required_text()?,
        name: node.field("name").required_text()?,
        turns: node.field("turns").flag()?.unwrap_or(false),
        invented: prose_or_none(&node.field("invented"), symbols)?,
    })
}

fn place(node: &Node<'_>) -> Result<Place, Wrong> {
    node.only(&["id", "name", "x", "y"])?;
    Ok(Place {
        id: node.field("id").required_text()?,
        name: node.field("name").required_text()?,
        x: coordinate(node, "x")?,
        y: coordinate(node, "y")?,
    })
}

fn scene(node: &Node<'_>) -> Result<Scene, Wrong> {
    node.only(&["told", "shapes"])?;
    let shapes = node.field("shapes").list(&shape)?;
    Ok(Scene { told: node.field("told").required_text()?, shapes })
}

fn shape(node: &Node<'_>) -> Result<SceneShape, Wrong> {
    let number = |name: &str| coordinate(node, name);
    let ends = || Ok(((number("x1")?, number("y1")?), (number("x2")?, number("y2")?)));
    let kind = node.field("shape");
    Ok(match kind.required_text()?.as_str() {
        "rectangle" => SceneShape::Rectangle {
            x: number("x")?,
            y: number("y")?,
            width: number("width")?,
            height: number("height")?,
        },
        "circle" => SceneShape::Circle { x: number("x")?, y: number("y")?, radius: number("radius")? },
        "line" => {
            let (from, to) = ends()?;
            SceneShape::Line { from, to }
        }
        "moving" => {
            let (from, to) = ends()?;
            SceneShape::Moving { from, to }
        }
        "words" => {
            SceneShape::Words { x: number("x")?, y: number("y")?, text: node.field("text").required_text()? }
        }
        "turning" => SceneShape::Turning {
            x: number("x")?,
            y: number("y")?,
            radius: number("radius")?,
            direction: direction(&node.field("direction"))?,
        },
        _ => return Err(kind.wrong("expected rectangle, circle, line, words, turning or moving")),
    })
}

fn coordinate(node: &Node<'_>, name: &str) -> Result<f64, Wrong> {
    let place = node.field(name);
    let number = place.number()?.filter(|number| (0.0..=SIDE).contains(number));
    number.ok_or_else(|| place.wrong("expected a number from 0 to 100"))
}
