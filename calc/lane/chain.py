"""What a weight of feed becomes: feed as laid, castings as sliced, dried for the screen, and what passes it.

By weight and by volume, for every page alike. Matter is kept: ash stays, dry matter is lost only by breathing, water
only by drying. Of volume kept, dry matter kept, both densities and both moistures, one follows from the others. Here it
is the bulk density of the castings as sliced: the five others are weighed or measured more easily.
"""

from dataclasses import dataclass


@dataclass(frozen=True)
class Parcel:
    """Some of a material: dry matter, water and ash [kg], ash being part of the dry matter; volume [m³] as it lies."""

    dry_matter: float
    water: float
    ash: float
    volume: float

    @property
    def mass(self) -> float:
        """Weight, water included [kg]."""
        return self.dry_matter + self.water

    @property
    def moisture(self) -> float:
        """Water as a share of the whole weight [-]."""
        return self.water / self.mass if self.mass else 0.0

    @property
    def bulk_density(self) -> float:
        """Weight of its volume [kg/m³]."""
        return self.mass / self.volume if self.volume else 0.0

    def times(self, factor: float) -> "Parcel":
        """So many times as much of the same."""
        return Parcel(self.dry_matter * factor, self.water * factor, self.ash * factor, self.volume * factor)

    def at(self, moisture: float, bulk_density: float) -> "Parcel":
        """The same dry matter and ash at another moisture [-] and bulk density [kg/m³]: the volume follows."""
        mass = self.dry_matter / (1 - moisture)
        return Parcel(self.dry_matter, mass * moisture, self.ash, mass / bulk_density)


def parcel(mass: float, moisture: float, ash: float, bulk_density: float) -> Parcel:
    """A weight [kg] of a material: moisture [-] of the whole, ash [-] of the dry matter, bulk density [kg/m³].

    >>> parcel(100, 0.7, 0.15, 500)
    Parcel(dry_matter=30.000000000000004, water=70.0, ash=4.5, volume=0.2)
    """
    dry = mass * (1 - moisture)
    return Parcel(dry, mass * moisture, dry * ash, mass / bulk_density)


def castings_density(
    feed_bulk_density: float, feed_moisture: float, dry_matter_kept: float, volume_kept: float, castings_moisture: float
) -> float:
    """Bulk density of castings as sliced [kg/m³]: their weight by dry-matter balance, over the volume that is left.

    Density [kg/m³]; moistures, dry matter kept and volume kept [-]. Source: conservation of dry matter.
    >>> round(castings_density(593.276, 0.70, 0.60, 0.50, 0.68), 1)
    667.4
    """
    return feed_bulk_density * dry_matter_kept * (1 - feed_moisture) / (1 - castings_moisture) / volume_kept


def volume_kept_at(
    feed_bulk_density: float, feed_moisture: float, dry_matter_kept: float, castings_density: float, moisture: float
) -> float:
    """Share of the feed's volume that is left at a bulk density [kg/m³] and moisture [-]: the same balance, turned
    round.

    >>> round(volume_kept_at(593.276, 0.70, 0.60, 667.4355, 0.68), 6)
    0.5
    """
    return feed_bulk_density * dry_matter_kept * (1 - feed_moisture) / (1 - moisture) / castings_density


def castings_ash(feed_ash: float, dry_matter_kept: float) -> float:
    """Ash of the castings' dry matter [-]: all the ash of the feed, in what dry matter is left of it.

    >>> castings_ash(0.15, 0.60)
    0.25
    """
    return feed_ash / dry_matter_kept


def share_by_weight(share_by_volume: float, product_density: float, overs_density: float) -> float:
    """Share by weight [-] of what passes a screen, from its share by volume [-]; bulk densities [kg/m³] of both heaps.

    >>> share_by_weight(0.65, 593.276, 593.276), round(share_by_weight(0.5, 600, 300), 4)
    (0.65, 0.6667)
    """
    passed = share_by_volume * product_density
    return passed / (passed + (1 - share_by_volume) * overs_density)


def share_by_volume(share_by_weight: float, product_density: float, overs_density: float) -> float:
    """Share by volume [-] of what passes a screen, from its share by weight [-]; bulk densities [kg/m³] of both heaps.

    >>> round(share_by_volume(share_by_weight(0.5, 600, 300), 600, 300), 12)
    0.5
    """
    passed = share_by_weight / product_density
    return passed / (passed + (1 - share_by_weight) / overs_density)


@dataclass(frozen=True)
class Shares:
    """How feed turns into castings: one figure for each thing, for all pages.

    Bulk densities [kg/m³]: of the feed as laid, and of castings at the screen, both sides of it alike. Moistures [-] of
    the whole: feed, castings as sliced, castings at the screen. feed_ash [-] of the dry matter. Kept [-]: dry matter,
    volume as sliced. product_share [-]: of the volume at the screen, what passes it.
    """

    feed_bulk_density: float
    feed_moisture: float
    feed_ash: float
    dry_matter_kept: float
    volume_kept: float
    castings_moisture: float
    screening_moisture: float
    castings_bulk_density: float
    product_share: float

    @property
    def sliced_density(self) -> float:
        """Bulk density of the castings as sliced [kg/m³]: the one that follows from the others."""
        return castings_density(
            self.feed_bulk_density,
            self.feed_moisture,
            self.dry_matter_kept,
            self.volume_kept,
            self.castings_moisture,
        )

    @property
    def volume_dried(self) -> float:
        """Volume at the screen for each volume as sliced [-]: the same dry matter, drier and at its own bulk
        density.
        """
        sliced = self.sliced_density * (1 - self.castings_moisture)
        return sliced / (self.castings_bulk_density * (1 - self.screening_moisture))

    @property
    def volume_sold(self) -> float:
        """Volume that passes the screen for each volume of feed [-]."""
        return self.volume_kept * self.volume_dried * self.product_share


@dataclass(frozen=True)
class Chain:
    """A weight of feed on its way: as laid, sliced, dried for the screen, what passes, what goes back or over."""

    feed: Parcel
    sliced: Parcel
    dried: Parcel
    product: Parcel
    overs: Parcel


def chain(feed_mass: float, shares: Shares) -> Chain:
    """Every stage of a weight of feed [kg].

    Source: conservation of ash (Paredes et al. 2000) and of dry matter; volume from bulk density at each moisture.
    >>> found = chain(1000, Shares(593.276, 0.70, 0.15, 0.60, 0.50, 0.68, 0.52, 593.276, 0.65))
    >>> [int(part.mass) for part in (found.sliced, found.dried, found.product)]
    [562, 375, 243]
    >>> [round(part.volume / found.feed.volume, 3) for part in (found.sliced, found.dried, found.product)]
    [0.5, 0.375, 0.244]
    """
    feed = parcel(feed_mass, shares.feed_moisture, shares.feed_ash, shares.feed_bulk_density)
    left = Parcel(feed.dry_matter * shares.dry_matter_kept, 0.0, feed.ash, 0.0)
    sliced = left.at(shares.castings_moisture, shares.sliced_density)
    dried = left.at(shares.screening_moisture, shares.castings_bulk_density)
    return Chain(feed, sliced, dried, dried.times(shares.product_share), dried.times(1 - shares.product_share))
