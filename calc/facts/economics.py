"""Money of the demo farm, Quillfen Smallholding: invented, every figure.

And the few figures of the trade that money hangs on.
"""

from calc.facts.base import Figure, Range

MONTHS_TO_INCOME = Range(
    "Months of work before the first income",
    6,
    8,
    9,
    "month",
    sure="practice",
    note="Six to nine months, for castings and for worms.",
)
RAMP_MONTHS = Range("Months from the first sale to full sales", 3, 6, 12, "month", sure="practice")
EARLY_SHARE = Range(
    "Work and feed of the first month against the full",
    0.3,
    0.5,
    0.8,
    "1",
    sure="demo",
    note="Worms are fed long before they are sold.",
)
LABOUR_HOURS_PER_UNIT = Range(
    "Hours of work for a pound of bred worms, small room, selling included",
    0.5,
    0.9,
    1.4,
    "hour",
    sure="demo",
    note=(
        "Somebody is there every day, however few the trays. That labour is the largest cost of bred worms is common"
        " practice; the figure is invented."
    ),
)

PRICE = Range("Price of a pound of worms", 28, 35, 45, "money", sure="demo")
UNITS_PER_MONTH = Range("Pounds of worms sold in a month", 15, 25, 35, "1", sure="demo")
FEED_COST = Range("Feed for a pound of worms", 1.0, 1.6, 2.6, "money", sure="demo")
PACKING_COST = Range("Packing for a pound of worms", 1.8, 2.4, 3.2, "money", sure="demo")
ENERGY_COST = Range("Heating, light and water of the room, a month", 30, 55, 110, "money", sure="demo")
FIXED_COST = Range("Rent, insurance, telephone, market stall, a month", 60, 90, 150, "money", sure="demo")
EQUIPMENT_COST = Range("Trays, racks, heater, screens", 1500, 2400, 4000, "money", sure="demo")
EQUIPMENT_LIFE = Range("Years that equipment lasts", 4, 6, 10, "year", sure="demo")
OPENING_CASH = Figure("Cash at the start", 7000, "money", sure="demo")
CONTINGENCY = Range("Reserve on top of a list to buy", 0.05, 0.10, 0.25, "1", sure="practice")
DISCOUNT_RATE = Range("What money could earn elsewhere, a year", 0.04, 0.08, 0.12, "1", sure="demo")
OTHER_SALES = Range(
    "Castings sold beside the worms in a month, less their bags", 60, 140, 240, "money/month", sure="demo"
)
RENEWALS = Range(
    "What wears out and is bought again in a year, from the fourth", 150, 300, 600, "money/year", sure="demo"
)
SEASON = (0.5, 0.6, 1.1, 1.7, 1.8, 1.4, 1.0, 0.8, 1.0, 0.9, 0.7, 0.5)
"""Sales of each month, January first, against the mean month: gardens buy in spring. Invented."""
