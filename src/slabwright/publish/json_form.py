"""The specification as JSON, by the contract that scripts rely on."""

from collections.abc import Mapping

from slabwright.figure import Figure
from slabwright.finding import Ask
from slabwright.publish.figure_json import (
    Json,
    figure_json,
    finding_json,
    mistake_json,
    place_json,
)
from slabwright.publish.nature_json import (
    nature_json,
    touching_json,
    water_activity_json,
)
from slabwright.publish.strokes_json import strokes_json
from slabwright.slab.tin import Tin
from slabwright.spec.bench import bench_figures
from slabwright.spec.card import Card, Sold
from slabwright.spec.loads import PlaceLoads
from slabwright.spec.nature.aspect import LayerNature
from slabwright.spec.specification import (
    CostFigures,
    CutFigures,
    LayerFigures,
    LineFigures,
    Specification,
)
from slabwright.spec.vessel_use import VesselUse


def spec_json(spec: Specification) -> Json:
    """Everything that was worked out, every number a figure."""
    count = len(spec.layers)
    lying, apart = spec.natures[:count], spec.natures[count:]
    return {
        "slab": spec.name,
        "is_component": spec.card.is_component,
        "tin": tin_json(spec.tin, spec.area_cm2),
        "mass_g": figure_json(spec.mass_g),
        "height_mm": figure_json(spec.height_mm),
        "head_room_mm": figure_json(spec.head_room_mm),
        "water_share": figure_json(spec.water_share),
        "layers": [
            _layer(layer, nature)
            for layer, nature in zip(spec.layers, lying, strict=True)
        ],
        "components": [
            _layer(layer, nature)
            for layer, nature in zip(spec.components, apart, strict=True)
        ],
        "touching": [touching_json(pair) for pair in spec.touching],
        "cut": cut_json(spec.cut) if spec.cut else None,
        "other_cuts": [cut_json(cut) for cut in spec.other_cuts],
        "cost": cost_json(spec.cost) if spec.cost else None,
        "kit": [_vessel_use(use) for use in spec.kit],
        "places": [_place_loads(one) for one in spec.places],
        "bench": _all(dict(bench_figures(spec))),
        **_card(spec.card),
        "kitchen": {
            "country": spec.kitchen.country,
            "currency": spec.kitchen.currency,
            "eggs": spec.kitchen.eggs,
            "spoons": spec.kitchen.spoons,
        },
        "findings": [finding_json(finding) for finding in spec.findings],
        "asks": [_ask(ask) for ask in spec.asks],
        "errors": [mistake_json(mistake) for mistake in spec.errors],
    }


def _vessel_use(use: VesselUse) -> Json:
    return {
        "vessel": use.vessel,
        "layer": use.layer,
        "mix": use.mix,
        "filled_ml": figure_json(use.filled_ml),
        "rises_to_ml": figure_json(use.rises_to_ml),
        "holds_ml": figure_json(use.holds_ml),
        "mixings": figure_json(use.mixings),
        "would_do": list(use.would_do),
    }


def _place_loads(one: PlaceLoads) -> Json:
    return {
        "place": one.place,
        "what": one.what,
        "tins": one.tins,
        "tins_a_load": one.tins_a_load,
        "loads": figure_json(one.loads),
    }


def _ask(ask: Ask) -> Json:
    return {
        "where": ask.where,
        "question": ask.question,
        "readings": [{"text": r.text, "does": r.does} for r in ask.readings],
        **place_json(ask.span),
    }


def _maybe(figure: Figure | None) -> Json | None:
    return figure_json(figure) if figure else None


def _all(figures: Mapping[str, Figure]) -> Json:
    return {name: figure_json(figure) for name, figure in figures.items()}


def tin_json(tin: Tin | None, area_cm2: Figure) -> Json | None:
    """A tin, its inner sizes and its area."""
    if tin is None:
        return None
    return {
        "words": tin.describe(),
        "shape": tin.shape,
        "length_mm": tin.length_mm,
        "width_mm": tin.width_mm,
        "depth_mm": tin.depth_mm,
        "rim_length_mm": tin.rim.length_mm,
        "rim_width_mm": tin.rim.width_mm,
        "corner_radius_mm": tin.base.corner_radius_mm if tin.shape != "round" else None,
        "count": tin.count,
        "cells": list(tin.cells),
        "divider_mm": tin.divider_mm,
        "area_cm2": figure_json(area_cm2),
    }


def _layer(layer: LayerFigures, nature: LayerNature) -> Json:
    return {
        "name": layer.name,
        "kind": layer.kind,
        "kind_told": layer.kind_told,
        "texture": layer.texture,
        "from": layer.from_component or None,
        "mass_in_g": figure_json(layer.mass_in_g),
        "batch_out_g": figure_json(layer.batch_out_g),
        "mass_out_g": figure_json(layer.mass_out_g),
        "lost_g": figure_json(layer.lost_g),
        "left_over_g": _maybe(layer.left_over_g),
        "depth_mm": figure_json(layer.depth_mm),
        "density_g_ml": figure_json(layer.density_g_ml),
        "share_of_mass": figure_json(layer.share_of_mass),
        "share_of_height": figure_json(layer.share_of_height),
        "water_share": figure_json(layer.water_share),
        "fat_share": figure_json(layer.fat_share),
        "sugars_share": figure_json(layer.sugars_share),
        "dry_matter_share": figure_json(layer.dry_matter_share),
        "water_activity": water_activity_json(nature),
        "nature": nature_json(nature),
        "composition": _all(layer.composition),
        "composition_before": _all(layer.before),
        "percent_base": layer.percent_base or None,
        "lines": [line_json(line) for line in layer.lines],
        "steps": [step.text for step in layer.steps],
    }


def line_json(line: LineFigures) -> Json:
    """A line, weighed."""
    return {
        "text": line.text,
        "name": line.name,
        "larder_id": line.larder_id,
        "component": line.weighed.batch.component.name if line.weighed.batch else None,
        "mass_g": figure_json(line.mass_g),
        "share_of_total": figure_json(line.share_of_total),
        "bakers_share": _maybe(line.bakers_share),
        "scale_reads_g": line.running_g,
        "vessel": line.vessel or None,
        "small_scale": line.small_scale,
        "assumed": line.assumed or None,
        "cost": _maybe(line.cost),
        "line": line.weighed.line.span.line,
    }


def cut_json(cut: CutFigures) -> Json:
    """A cut, worked out."""
    return {
        "words": cut.said.text,
        "tin": cut.tin_name or None,
        "shape": cut.cutting.shape,
        "pieces": figure_json(cut.pieces),
        "along": _maybe(cut.along),
        "across": _maybe(cut.across),
        "piece_length_mm": _maybe(cut.piece_length_mm),
        "piece_width_mm": _maybe(cut.piece_width_mm),
        "piece_angle_deg": _maybe(cut.piece_angle_deg),
        "piece_words": cut.cutting.words,
        "piece_mass_g": figure_json(cut.piece_mass_g),
        "promised_piece_g": figure_json(cut.promised_g),
        "edge_pieces": figure_json(cut.edge_pieces),
        "trim_g": figure_json(cut.trim_g),
        "left_over_g": figure_json(cut.left_over_g),
        "strokes": strokes_json(cut.cutting.strokes),
        "cuts_along_mm": list(cut.cutting.cuts_along_mm),
        "cuts_across_mm": list(cut.cutting.cuts_across_mm),
        "note": cut.cutting.note,
    }


def cost_json(cost: CostFigures) -> Json:
    """What the ingredients cost."""
    return {
        "currency": cost.currency,
        "ingredients": figure_json(cost.ingredients),
        "ingredients_per_piece": _maybe(cost.ingredients_per_piece),
        "by_layer": [figure_json(figure) for figure in cost.by_layer],
        "missing": list(cost.missing),
        "unweighed": list(cost.unweighed),
        "trim": _maybe(cost.trim),
        "waste_allowance": figure_json(cost.waste_allowance),
        "with_waste": figure_json(cost.with_waste),
        "with_waste_per_piece": _maybe(cost.with_waste_per_piece),
    }


def _card(card: Card) -> Json:
    return {
        "keep": [
            {"place": k.place, "days": k.days, "text": k.text} for k in card.keeps
        ],
        "sold": _sold(card.sold) if card.sold else None,
        "sales": [_sold(one) for one in card.sales],
        "called": card.called or None,
        "pictured": list(card.pictured),
        "dated": None
        if card.dated is None
        else {
            "kind": card.dated.kind,
            "days": card.dated.days,
            "months": card.dated.months,
            "counts_bake_day": card.dated.counts_bake_day,
            "text": card.dated.text,
        },
        "proved": card.proved.isoformat() if card.proved else None,
        "notes": list(card.notes),
        "finish": [step.text for step in card.finish.steps] if card.finish else [],
    }


def _sold(sold: Sold) -> Json:
    return {
        "how": sold.how,
        "price": None if sold.price is None else float(sold.price),
        "way": sold.way.value if sold.way else None,
        "pieces": sold.pieces,
        "whole_tray": sold.is_whole_tray,
        "from": sold.from_day.isoformat() if sold.from_day else None,
        "net_g": sold.net_g,
    }
