"""A specification: everything worked out about a slab, as figures and findings."""

from dataclasses import dataclass, field

from slabwright.cut.cutting import Cutting
from slabwright.cut.roller import Setting
from slabwright.errors import Mistake, Span
from slabwright.figure import Figure
from slabwright.finding import Ask, Finding
from slabwright.formula.batch import Batch, all_batches
from slabwright.formula.pot import Happening
from slabwright.formula.step import Step
from slabwright.formula.weighed import WeighedLine
from slabwright.kitchen import Kitchen
from slabwright.slab.tin import Tin
from slabwright.spec.card import Card, SaidCut
from slabwright.spec.loads import PlaceLoads
from slabwright.spec.nature.aspect import LayerNature, Touching
from slabwright.spec.told import Told, told
from slabwright.spec.vessel_use import VesselUse


@dataclass(frozen=True, slots=True)
class LineFigures:
    """One line, weighed."""

    weighed: WeighedLine
    text: str
    name: str
    larder_id: str | None
    mass_g: Figure
    share_of_total: Figure
    bakers_share: Figure | None
    """Of the layer's base (flour, chocolate, sugar), 1.0 = 100 %."""
    running_g: float | None
    """What the scale reads after it, in the vessel of the moment."""
    vessel: str
    small_scale: bool
    assumed: str
    """What was assumed about it, in words; empty if nothing."""
    cost: Figure | None = None


@dataclass(frozen=True, slots=True)
class LayerFigures:
    """One layer, worked out; a component without a place in the slab too."""

    name: str
    kind: str
    kind_told: str
    texture: str
    span: Span
    from_component: str
    mass_in_g: Figure
    batch_out_g: Figure
    """What one batch gives."""
    mass_out_g: Figure
    """What lies in the slab."""
    lost_g: Figure
    depth_mm: Figure
    from_mm: float | None
    density_g_ml: Figure
    share_of_mass: Figure
    share_of_height: Figure
    water_share: Figure
    fat_share: Figure
    sugars_share: Figure
    dry_matter_share: Figure
    composition: dict[str, Figure]
    """Shares of the finished mass by constituent; what is not in it is left out."""
    before: dict[str, Figure]
    """The same before cooking."""
    percent_base: str
    lines: tuple[LineFigures, ...]
    steps: tuple[Step, ...]
    happenings: tuple[Happening, ...]
    left_over_g: Figure | None
    batch: Batch = field(compare=False)


@dataclass(frozen=True, slots=True)
class CutFigures:
    """The slab cut as its card says."""

    said: SaidCut
    cutting: Cutting
    pieces: Figure
    along: Figure | None
    across: Figure | None
    piece_length_mm: Figure | None
    piece_width_mm: Figure | None
    piece_angle_deg: Figure | None
    piece_mass_g: Figure
    trim_g: Figure
    edge_pieces: Figure
    """Pieces with a side on the slab's edge, trimmed or not."""
    left_over_g: Figure
    """Strips and off-cuts that make no whole piece; part of the trim."""
    promised_g: Figure
    """What at least 99 of 100 pieces weigh."""
    tin: Tin
    tin_name: str = ""
    knife_mm: float = 0.0
    """Width that the knife takes, the card's or the kitchen's."""
    rollers: tuple[Setting, ...] = ()
    """How the kitchen's rollers are set for it, or why they can't be."""


@dataclass(frozen=True, slots=True)
class CostFigures:
    """What the ingredients cost."""

    currency: str
    ingredients: Figure
    ingredients_per_piece: Figure | None
    by_layer: tuple[Figure, ...]
    missing: tuple[str, ...]
    """Ingredients without a price, which are in no sum."""
    unweighed: tuple[str, ...]
    """Lines whose grams are not known, which are in no sum."""
    trim: Figure | None
    """What the trim costs; the pieces pay for it."""
    waste_allowance: Figure
    """What is bought beyond what goes in."""
    with_waste: Figure
    """The ingredients and the waste allowance."""
    with_waste_per_piece: Figure | None
    old: tuple[str, ...] = ()
    """Ingredients whose price is over a year old on the day."""


@dataclass(frozen=True, slots=True)
class Specification:
    """A slab from grams to findings. Layers stand bottom first."""

    card: Card
    kitchen: Kitchen
    tin: Tin | None
    area_cm2: Figure
    mass_g: Figure
    height_mm: Figure
    head_room_mm: Figure
    water_share: Figure
    layers: tuple[LayerFigures, ...]
    components: tuple[LayerFigures, ...]
    """Components on the card, and those that its layers take from."""
    cut: CutFigures | None
    other_cuts: tuple[CutFigures, ...]
    cost: CostFigures | None
    findings: tuple[Finding, ...]
    asks: tuple[Ask, ...]
    errors: tuple[Mistake, ...]
    kit: tuple[VesselUse, ...] = ()
    """Vessels that the card names, each at its fullest."""
    places: tuple[PlaceLoads, ...] = ()
    """Ovens, fridges and the like that its tins go to, and in how many loads."""
    natures: tuple[LayerNature, ...] = ()
    """What each layer is like, bottom first, then each component."""
    touching: tuple[Touching, ...] = ()
    """What happens where two layers touch, bottom first."""

    @property
    def name(self) -> str:
        """The slab's name."""
        return self.card.name

    @property
    def layer_names(self) -> tuple[str, ...]:
        """What its layers are called, bottom first."""
        return tuple(layer.name for layer in self.layers)

    @property
    def told(self) -> tuple[Told, ...]:
        """Its findings as people get them: what holds for many layers once."""
        return told(self.findings, self.layer_names)

    def nature_of(self, layer: LayerFigures | None) -> LayerNature | None:
        """What this very layer or component of the slab is like."""
        every = zip((*self.layers, *self.components), self.natures, strict=False)
        return next((nature for one, nature in every if one is layer), None)

    @property
    def files(self) -> frozenset[str]:
        """Every card that something of this slab stands on."""
        batches = (layer.batch for layer in (*self.layers, *self.components))
        return frozenset(
            inner.component.file for batch in batches for inner in all_batches(batch)
        )
