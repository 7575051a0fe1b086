//! The shoe of one size: the designer's choices and fit corrections evaluated, the shoe drafted, and
//! what it gives to pieces, formulas and drawings. Millimetres.

use super::drafted_shoe::{DraftedLook, DraftedShoe};
use super::drafter::Drafter;
use super::shoe::{
    Closure, Corrections, DonningChoices, FlatShoe, Shoe, ShoeChoices, ShoeCut, Soles, Strips,
    UpperCloth, draft_from_strips, draft_shoe,
};
use super::shoe_notches::notches_of;
use crate::design::{
    ClosureSpec, Cloth, ClothKind, FitChange, FitEntry, FootSideSpec, ShapeSpec, ShoePart,
    ShoeSpec, ShoeWay,
};
use crate::diagnostic::{Diagnostic, Diagnostics};
use crate::geometry::Outline;
use kurbo::Point;
use std::collections::BTreeMap;

/// Drafts the shoe of the drafter's size. Everything that is in the way goes to its diagnostics.
pub(super) fn drafted(drafter: &Drafter, spec: &ShoeSpec) -> Option<DraftedShoe> {
    let foot = drafter.foot?;
    let choices = choices(drafter, spec)?;
    let mut said = Diagnostics::default();
    let drafted = match spec.way {
        ShoeWay::Form => draft_shoe(foot, &choices, &mut said).map(|shoe| of_form(shoe, choices)),
        ShoeWay::Strips => Strips::read(foot, &mut said)
            .and_then(|strips| draft_from_strips(foot, &strips, &choices, &mut said))
            .map(|shoe| of_strips(shoe, choices)),
    };
    tell(drafter, spec, &said);
    drafted
}

fn of_form(shoe: Shoe, choices: ShoeChoices) -> DraftedShoe {
    let mut outlines = outlines(&shoe.soles, &shoe.toe, &shoe.heel);
    if let Some(lining) = &shoe.lining {
        outlines.insert(ShoePart::ToeLining, lining.toe.clone());
        outlines.insert(ShoePart::HeelLining, lining.heel.clone());
    }
    let mut figures = chosen(&choices, &shoe.soles, shoe.easing.used);
    figures.extend(
        shoe.lining
            .as_ref()
            .map(|l| ("lining fullness", l.fullness)),
    );
    figures.extend(found(&shoe));
    DraftedShoe {
        notches: notches_of(&shoe.notches, &outlines),
        figures,
        outlines,
        choices,
        look: DraftedLook::default(),
        form: Some(Box::new(shoe)),
    }
}

fn of_strips(shoe: FlatShoe, choices: ShoeChoices) -> DraftedShoe {
    let outlines = outlines(&shoe.soles, &shoe.toe, &shoe.heel);
    let mut figures = chosen(&choices, &shoe.soles, shoe.easing.used);
    figures.insert("topline", shoe.topline);
    DraftedShoe {
        notches: notches_of(&shoe.notches, &outlines),
        figures,
        outlines,
        choices,
        look: DraftedLook::default(),
        form: None,
    }
}

fn outlines(soles: &Soles, toe: &Outline, heel: &Outline) -> BTreeMap<ShoePart, Outline> {
    let mut outlines = BTreeMap::from([
        (ShoePart::Sole, soles.sole.clone()),
        (ShoePart::LiningSole, soles.lining_sole.clone()),
        (ShoePart::Toe, toe.clone()),
        (ShoePart::Heel, heel.clone()),
    ]);
    if let Some(stiffener) = &soles.stiffener {
        outlines.insert(ShoePart::Stiffener, stiffener.clone());
    }
    outlines
}

/// What drawings of the shoe show; nothing of its draft hangs on it.
pub(super) fn look(drafter: &Drafter, spec: &ShoeSpec) -> DraftedLook {
    DraftedLook {
        strap: spec.look.strap.as_ref().and_then(|f| drafter.length(f)),
        button: spec.look.button,
        topstitch: spec.look.topstitch,
        only: drafter.size.only,
    }
}

/// Hands on what the draft said: what was decided under `shoe` is placed there, and every sentence
/// names its size if there are several.
fn tell(drafter: &Drafter, spec: &ShoeSpec, said: &Diagnostics) {
    for diagnostic in said.iter() {
        let mut told = diagnostic.clone();
        if told.code.starts_with("shoe-") {
            told.place = Some(spec.place.clone());
        }
        if drafter.design.sizes.len() > 1 {
            told.message = format!("Size {}: {}", drafter.size.title, told.message);
        }
        drafter.say(told);
    }
}

/// The points that the draft names on a part: the throat of a toe piece, where the ridge of the form
/// meets the topline (from strips, its middle), and the middle of a heel piece's topline.
pub(super) fn points(shoe: &DraftedShoe, part: ShoePart) -> BTreeMap<String, Point> {
    let share = match part {
        ShoePart::Toe | ShoePart::ToeLining => {
            let form = shoe.form.as_ref();
            ("throat", form.map_or(0.5, |shoe| shoe.form.throat_share()))
        }
        ShoePart::Heel | ShoePart::HeelLining => ("back", 0.5),
        ShoePart::Sole | ShoePart::LiningSole | ShoePart::Stiffener => return BTreeMap::new(),
    };
    let topline = shoe.outlines.get(&part).and_then(|o| o.edge("topline"));
    let point = topline.map(|edge| edge.station(share.1 * edge.length()).point);
    point
        .map(|point| (share.0.to_string(), point))
        .into_iter()
        .collect()
}

fn choices(drafter: &Drafter, spec: &ShoeSpec) -> Option<ShoeChoices> {
    let length = |formula: &crate::design::Formula| drafter.length(formula);
    let optional = |formula: &Option<crate::design::Formula>| match formula {
        None => Some(None),
        Some(formula) => length(formula).map(Some),
    };
    let cut = ShoeCut {
        throat: length(&spec.throat)?,
        throat_angle: spec.throat_angle,
        low_point: length(&spec.low_point)?,
        side_heights: [
            length(&spec.side_heights[0])?,
            length(&spec.side_heights[1])?,
        ],
        back_height: length(&spec.back_height)?,
        side_marks: [length(&spec.side_marks[0])?, length(&spec.side_marks[1])?],
        seam_lean: optional(&spec.seam_lean)?.unwrap_or(0.0),
    };
    let cloth = upper_cloth(drafter, spec)?;
    let thickness = |key: &str| {
        let cloth = cloth_called(drafter, key)?;
        let kind = kind_of(cloth).map(|kind| kind.facts().thickness);
        cloth.thickness.or(kind)
    };
    let lined = |part: &ShoePart| matches!(part, ShoePart::ToeLining | ShoePart::HeelLining);
    let lining = drafter
        .design
        .pieces
        .iter()
        .any(|piece| matches!(&piece.shape, ShapeSpec::Shoe { part, .. } if lined(part)));
    let mut choices = ShoeChoices {
        ease: length(&spec.ease)?,
        cloth,
        lining_thickness: spec.lining.as_deref().and_then(thickness).unwrap_or(0.0),
        sole_thickness: thickness(&spec.sole).unwrap_or(cloth.thickness),
        allowance: length(&spec.allowance)?,
        trim: length(&spec.trim)?,
        cut,
        fullness: optional(&spec.fullness)?,
        lining,
        donning: donning(drafter, spec)?,
        corrections: Corrections::default(),
        ..ShoeChoices::usual(drafter.foot?.length, cloth.kind)
    };
    for entry in &drafter.design.fit {
        if entry.holds_for(&drafter.size.declared) {
            correct(&mut choices, entry);
        }
    }
    Some(choices)
}

fn donning(drafter: &Drafter, spec: &ShoeSpec) -> Option<DonningChoices> {
    let edge_thickness = match &spec.edge_thickness {
        None => None,
        Some(formula) => Some(drafter.length(formula)?),
    };
    Some(DonningChoices {
        closure: match spec.closure {
            ClosureSpec::Open => Closure::Open,
            ClosureSpec::ElasticStrap => Closure::ElasticStrap,
            ClosureSpec::BackElastic => Closure::BackElastic,
            ClosureSpec::Tie => Closure::Tie,
        },
        give: spec.foot_gives,
        edge_thickness,
        stretch: spec.stretch,
        strap_at: spec.strap_at,
        back_span: spec.back_span,
    })
}

fn correct(choices: &mut ShoeChoices, entry: &FitEntry) {
    let sides = match entry.side {
        None => [true, true],
        Some(FootSideSpec::Inner) => [true, false],
        Some(FootSideSpec::Outer) => [false, true],
    };
    let add = |pair: &mut [f64; 2]| {
        for (value, wanted) in pair.iter_mut().zip(sides) {
            *value += if wanted { entry.by } else { 0.0 };
        }
    };
    let more = &mut choices.corrections;
    let single = match entry.change {
        FitChange::SideHeight => return add(&mut choices.cut.side_heights),
        FitChange::SideMark => return add(&mut more.side_marks),
        FitChange::TakeIn => return add(&mut more.take_in),
        FitChange::Ease => &mut more.ease,
        FitChange::BackHeight => &mut more.back_height,
        FitChange::Throat => &mut more.throat,
        FitChange::ThroatAngle => &mut more.throat_angle,
        FitChange::ToeRoom => &mut more.toe_room,
        FitChange::ToeLength => &mut more.toe_length,
        FitChange::Fullness => &mut more.fullness,
        FitChange::HeelWidth => &mut more.heel_narrower,
        FitChange::HeelGrip => &mut more.heel_clip,
    };
    *single += entry.by;
}

fn cloth_called<'d>(drafter: &Drafter<'d>, key: &str) -> Option<&'d Cloth> {
    drafter.design.cloth.iter().find(|cloth| cloth.key == key)
}

fn kind_of(cloth: &Cloth) -> Option<ClothKind> {
    let words = cloth.kind.as_deref().unwrap_or(&cloth.name);
    ClothKind::named(words)
}

fn upper_cloth(drafter: &Drafter, spec: &ShoeSpec) -> Option<UpperCloth> {
    let cloth = cloth_called(drafter, &spec.cloth)?;
    let kind = kind_of(cloth);
    let usual = kind.map(UpperCloth::usual);
    let known = usual.map(|usual| usual.ease_limit);
    let Some(ease_limit) = spec.easing_limit.or(known) else {
        let words = cloth.kind.as_deref().unwrap_or(&cloth.name);
        let kinds = ClothKind::ALL.map(ClothKind::words).join(", ");
        let message = format!("How much fullness ‘{words}’ eases is not known");
        let remedy = format!(
            "give the cloth one of the kinds {kinds}, or measure it and add ‘easing limit: 6 %’ to \
             the shoe"
        );
        drafter.say(Diagnostic::error("shoe-cloth", Some(&spec.place), message).remedy(remedy));
        return None;
    };
    let usual = usual.unwrap_or_else(|| UpperCloth::usual(ClothKind::Woven));
    Some(UpperCloth {
        thickness: cloth.thickness.unwrap_or(usual.thickness),
        ease_limit,
        kind: usual.kind,
    })
}

/// The values that come of choices and corrections; names as in [`crate::design::SHOE_FIGURES`].
fn chosen(choices: &ShoeChoices, soles: &Soles, fullness: f64) -> BTreeMap<&'static str, f64> {
    let cut = choices.corrected_cut();
    BTreeMap::from([
        ("ease", choices.corrected_ease()),
        ("allowance", choices.allowance),
        ("trim", choices.trim),
        ("throat", cut.throat),
        ("inner side height", cut.side_heights[0]),
        ("outer side height", cut.side_heights[1]),
        ("back height", cut.back_height),
        ("fullness", fullness),
        ("lining inset", soles.lining_inset),
        ("stiffener inset", soles.stiffener_inset),
    ])
}

/// The values that only a draft on the form finds.
fn found(shoe: &Shoe) -> [(&'static str, f64); 14] {
    let donning = &shoe.donning;
    [
        ("topline", donning.topline),
        ("wanted fullness", shoe.easing.natural),
        ("opening", donning.need),
        ("room", shoe.quality.room),
        ("strap", donning.strap.worn),
        ("strap elastic", donning.strap.elastic),
        ("strap cloth", donning.strap.cloth),
        ("strap opening", donning.strap.opens_to),
        ("back cloth", donning.back.cloth),
        ("back added", donning.back.added),
        ("back elastic", donning.back.elastic),
        ("back opening", donning.back.opens_to),
        ("tie ribbon", donning.tie.ribbon),
        ("tie slit", donning.tie.slit),
    ]
}
