"""The works that figures come from, each once: who, when, what, where, and how we saw it. Append yours in its group."""

from calc.facts.base import DEMO, PRACTICE, Source

__all__ = ["DEMO", "PRACTICE"]

EDWARDS_ARANCON_2004 = Source(
    "Edwards & Arancon 2004",
    "Edwards & Arancon",
    "2004",
    "The use of earthworms in the breakdown of organic wastes to produce vermicomposts and animal feed protein",
    "Edwards (ed.), Earthworm Ecology, 2nd ed., CRC Press, chapter 18",
    "read",
)
NDEGWA_2000 = Source(
    "Ndegwa, Thompson & Das 2000",
    "Ndegwa, Thompson & Das",
    "2000",
    "Effects of stocking density and feeding rate on vermicomposting of biosolids",
    "Bioresource Technology 71:5–12",
    "abstract",
)

# ---- feed and bedding
ALBERTA_2005 = Source(
    "Alberta Agriculture 2005",
    "Alberta Agriculture, Food and Rural Development",
    "2005",
    "Manure Composting Manual",
    "Agdex 400/27-1, table 3",
    "second-hand",
)
CASADY_1962 = Source(
    "Casady 1962", "Casady", "1962", "Value and Use of Rabbit Manure", "USDA Agricultural Research Service", "abstract"
)
CFR_205 = Source(
    "7 CFR 205.203",
    "US Department of Agriculture",
    "in force",
    "Soil fertility and crop nutrient management practice standard",
    "7 CFR 205.203, US National Organic Program",
    "read",
)
CFR_503 = Source(
    "40 CFR 503",
    "US Environmental Protection Agency",
    "in force",
    "Standards for the use or disposal of sewage sludge",
    "40 CFR 503.32 and appendix B, read in the copies of several states",
    "read",
)
CFR_503_FLIES = Source(
    "40 CFR 503.33",
    "US Environmental Protection Agency",
    "in force",
    "Vector attraction reduction",
    "40 CFR 503.33(b)(5), as a textbook's table has it",
    "second-hand",
)
COMPOSTING_HANDBOOK_2022 = Source(
    "The Composting Handbook 2022",
    "Rynk (ed.)",
    "2022",
    "The Composting Handbook: a how-to and why manual for farm, municipal, institutional and commercial composters",
    "Academic Press, chapter 4: conditions of a good start",
    "read",
)
COOPERBAND_2002 = Source(
    "Cooperband 2002",
    "Cooperband",
    "2002",
    "The Art and Science of Composting",
    "University of Wisconsin, Center for Integrated Agricultural Systems",
    "second-hand",
)
EPA_2016 = Source(
    "EPA 1997, 2016",
    "US Environmental Protection Agency",
    "1997, 2016",
    "Volume-to-Weight Conversion Factors (2016); Measuring Recycling: A Guide for State and Local Governments,"
    " appendix B (1997)",
    "Washington",
    "read",
)
GOLUEKE_1972 = Source(
    "Golueke 1972",
    "Golueke",
    "1972",
    "Composting: a study of the process and its principles",
    "Rodale; its table as printed in Polprasert, Organic Waste Recycling, table 3.1",
    "second-hand",
)
GOTAAS_1956 = Source(
    "Gotaas 1956",
    "Gotaas",
    "1956",
    "Composting: sanitary disposal and reclamation of organic wastes",
    "World Health Organization Monograph 31; with Adams and others 1951",
    "read",
)
KAPLAN_1980 = Source(
    "Kaplan et al. 1980",
    "Kaplan, Hartenstein, Neuhauser & Malecki",
    "1980",
    "Physicochemical requirements in the environment of the earthworm Eisenia foetida",
    "Soil Biology and Biochemistry 12",
    "abstract",
)
NDEGWA_THOMPSON_2000 = Source(
    "Ndegwa & Thompson 2000",
    "Ndegwa & Thompson",
    "2000",
    "Effects of C-to-N ratio on vermicomposting of biosolids",
    "Bioresource Technology 75:7–12",
    "abstract",
)
RYNK_1992 = Source(
    "Rynk (ed.) 1992",
    "Rynk (ed.)",
    "1992",
    "On-Farm Composting Handbook",
    "NRAES-54, Northeast Regional Agricultural Engineering Service, table A.1; much of it from memory",
    "second-hand",
)
CORNELL_1996 = Source(
    "Richard & Trautmann 1996",
    "Richard & Trautmann",
    "1996",
    "Getting the Right Mix: Calculations for Thermophilic Composting",
    "Cornell Waste Management Institute, Science and Engineering of Composting",
    "read",
)
ABAD_2002 = Source(
    "Abad et al. 2002",
    "Abad, Noguera, Puchades, Maquieira & Noguera",
    "2002",
    "Physico-chemical and chemical properties of some coconut coir dusts for use as a peat substitute for"
    " containerised ornamental plants",
    "Bioresource Technology 82:241–245; its mean of 117 in an abstract of the same samples, Acta Horticulturae 517",
    "abstract",
)
BOYLES = Source(
    "Boyles, Ohio State Extension",
    "Boyles",
    "undated",
    "Feeding potato processing wastes and culls to cattle",
    "Ohio State University Extension",
    "read",
)
COUFAL_2006 = Source(
    "Coufal et al. 2006",
    "Coufal, Chavez, Niemeyer & Carey",
    "2006",
    "Measurement of broiler litter production rates and nutrient content using recycled litter",
    "PubMed 16553266; Poultry Science, from memory",
    "abstract",
)
EVANS_1996 = Source(
    "Evans et al. 1996",
    "Evans, Konduru & Stamps",
    "1996",
    "Source variation in physical and chemical properties of coconut coir dust",
    "HortScience 31; authors, year and journal from memory",
    "abstract",
)
FEEDIPEDIA = Source(
    "Feedipedia",
    "INRAE, CIRAD, AFZ & FAO",
    "undated",
    "Apple pomace and culled apples",
    "Feedipedia, animal feed resources information system; its publishers from memory",
    "read",
)
FLORIDA_AN241 = Source(
    "University of Florida Extension, EDIS AN241",
    "Thomas, Hersom, Thrift & Yelich",
    "undated",
    "Wet Brewers' Grains for Beef Cattle",
    "University of Florida, IFAS Extension, AN241",
    "read",
)
LORIMOR_1999 = Source(
    "Lorimor & Xin 1999",
    "Lorimor & Xin",
    "1999",
    "Manure production and nutrient concentrations from high-rise layer houses",
    "Applied Engineering in Agriculture 15; authors, year and title from memory",
    "abstract",
)
ZHANG_2012 = Source(
    "Zhang, Ghaly & Li 2012",
    "Zhang, Ghaly & Li",
    "2012",
    "Physical properties of rice residues as affected by variety and climatic and cultivation conditions in three"
    " continents",
    "American Journal of Applied Sciences 9:1757–1768",
    "abstract",
)

# ---- moisture, water, heat and frost
ABRAMOWITZ_STEGUN_1964 = Source(
    "Abramowitz & Stegun 1964",
    "Abramowitz & Stegun",
    "1964",
    "Handbook of Mathematical Functions",
    "National Bureau of Standards, 26.7: Student's t; its series as programs quote them",
    "second-hand",
)
AHN_2008 = Source(
    "Ahn, Richard & Glanville 2008",
    "Ahn, Richard & Glanville",
    "2008",
    "Laboratory determination of compost physical parameters for modeling of airflow characteristics",
    "Waste Management 28:660; volume from memory",
    "abstract",
)
AHN_2009 = Source(
    "Ahn et al. 2009",
    "Ahn, Sauer, Richard & Glanville",
    "2009",
    "Determination of thermal properties of composting bulking materials",
    "Bioresource Technology 100:3974–3981",
    "abstract",
)
ASHRAE_2017 = Source(
    "ASHRAE 2017", "ASHRAE", "2017", "ASHRAE Handbook: Fundamentals", "chapter 1, Psychrometrics", "second-hand"
)
ASTM_D2216 = Source(
    "ASTM D2216",
    "ASTM",
    "current",
    "Standard test methods for laboratory determination of water content of soil and rock by mass",
    "ASTM D2216 (dry basis, oven at 110 ± 5 °C)",
    "abstract",
)
ASTM_D4643 = Source(
    "ASTM D4643",
    "ASTM",
    "2017",
    "Standard test method for determination of water content of soil and rock by microwave oven heating",
    "ASTM D4643; its first page read, its end point from memory",
    "abstract",
)
CRANK_NICOLSON_1947 = Source(
    "Crank & Nicolson 1947",
    "Crank & Nicolson",
    "1947",
    "A practical method for numerical evaluation of solutions of partial differential equations of the heat-conduction"
    " type",
    "Proceedings of the Cambridge Philosophical Society 43:50–67; first pages, as reprinted in 1996",
    "abstract",
)
DE_VRIES_1963 = Source(
    "de Vries 1963",
    "de Vries",
    "1963",
    "Thermal properties of soils",
    "van Wijk (ed.), Physics of Plant Environment, North-Holland",
    "second-hand",
)
BONEVA_1971 = Source(
    "Boneva, Kendall & Stefanov 1971",
    "Boneva, Kendall & Stefanov",
    "1971",
    "Spline transformations: three new diagnostic aids for the statistical data-analyst",
    "Journal of the Royal Statistical Society B 33:1–71",
    "second-hand",
)
EN_13041 = Source(
    "EN 13041",
    "CEN",
    "2011",
    "Soil improvers and growing media: determination of physical properties, dry bulk density, air"
    " volume, water volume, shrinkage value and total pore space",
    "EN 13041; its scope and contents read, the two densities from memory",
    "abstract",
)
EPSTEIN_1991 = Source(
    "Epstein 1991",
    "Epstein",
    "1991",
    "On obtaining daily climatological values from monthly means",
    "Journal of Climate 4:365–368",
    "second-hand",
)
FAO_56 = Source(
    "FAO-56",
    "Allen, Pereira, Raes & Smith",
    "1998",
    "Crop evapotranspiration: guidelines for computing crop water requirements",
    "FAO Irrigation and Drainage Paper 56",
    "second-hand",
)
HAUG_1993 = Source(
    "Haug 1993", "Haug", "1993", "The Practical Handbook of Compost Engineering", "Lewis Publishers", "second-hand"
)
ISO_6946 = Source(
    "ISO 6946",
    "ISO",
    "current",
    "Building components and building elements: thermal resistance and thermal transmittance, calculation methods",
    "ISO 6946; its surface resistances as building programs quote them",
    "second-hand",
)
LOEHR_1985 = Source(
    "Loehr, Neuhauser & Malecki 1985",
    "Loehr, Neuhauser & Malecki",
    "1985",
    "Factors affecting the vermistabilization process: temperature, moisture content and polyculture",
    "Water Research 19",
    "abstract",
)
LEUNING_1995 = Source(
    "Leuning et al. 1995",
    "Leuning, Kelliher, de Pury & Schulze",
    "1995",
    "Leaf nitrogen, photosynthesis, conductance and transpiration: scaling from leaves to canopies",
    "Plant, Cell & Environment 18:1183–1200; the balance with radiation as programs for leaves quote it",
    "second-hand",
)
MOENE_VAN_DAM_2014 = Source(
    "Moene & van Dam 2014",
    "Moene & van Dam",
    "2014",
    "Transport in the Atmosphere–Vegetation–Soil Continuum",
    "Cambridge University Press, table 2.2 (after de Vries 1963 and O'Donnell et al. 2009)",
    "read",
)
PENMAN_1948 = Source(
    "Penman 1948",
    "Penman",
    "1948",
    "Natural evaporation from open water, bare soil and grass",
    "Proceedings of the Royal Society of London A 193:120–145; first page seen, wind function as public codes have it",
    "second-hand",
)
REINECKE_VENTER_1987 = Source(
    "Reinecke & Venter 1987",
    "Reinecke & Venter",
    "1987",
    "Moisture preferences, growth and reproduction of the compost worm Eisenia fetida (Oligochaeta)",
    "Biology and Fertility of Soils 3:135–141",
    "abstract",
)
RYMES_MYERS_2001 = Source(
    "Rymes & Myers 2001",
    "Rymes & Myers",
    "2001",
    "Mean preserving algorithm for smoothly interpolating averaged data",
    "Solar Energy 71:225–231",
    "second-hand",
)
TMECC_2001 = Source(
    "TMECC 2001",
    "US Composting Council Research and Education Foundation & US Department of Agriculture",
    "2001",
    "Test Methods for the Examination of Composting and Compost",
    "edited by Thompson, Leege, Millner & Watson; preface read, the oven's 65 to 75 °C as a letter quotes it",
    "second-hand",
)
WESSELING_1957 = Source(
    "Wesseling & van Wijk 1957",
    "Wesseling & van Wijk",
    "1957",
    "Soil physical conditions in relation to drain depth",
    "Drainage of Agricultural Lands, American Society of Agronomy",
    "memory",
)
CEH_2016 = Source(
    "CEH 2016",
    "Centre for Ecology & Hydrology",
    "2016",
    "Laboratory data on Eisenia fetida at 20 °C",
    "kept in a public collection of animal traits (Augustine, Spurgeon, Rasnaca & Gergs 2017)",
    "read",
)
DOMINGUEZ_2004 = Source(
    "Domínguez 2004",
    "Domínguez",
    "2004",
    "State of the art and new perspectives on vermicomposting research",
    "Edwards (ed.), Earthworm Ecology, 2nd ed., CRC Press, pages 401–424, as a list of works has it; its figures from"
    " memory",
    "second-hand",
)
DURAN_2009 = Source(
    "Durán & Henríquez 2009",
    "Durán & Henríquez",
    "2009",
    "Crecimiento y reproducción de la lombriz roja (Eisenia foetida) en cinco sustratos orgánicos",
    "Agronomía Costarricense 33(2):275–281",
    "abstract",
)
EDWARDS_1988 = Source(
    "Edwards 1988",
    "Edwards",
    "1988",
    "Breakdown of animal, vegetable and industrial organic wastes by earthworms",
    "Edwards & Neuhauser (eds), Earthworms in Waste and Environmental Management, SPB",
    "second-hand",
)
GUNADI_2002 = Source(
    "Gunadi, Blount & Edwards 2002",
    "Gunadi, Blount & Edwards",
    "2002",
    "The growth and fecundity of Eisenia fetida (Savigny) in cattle solids pre-composted for different periods",
    "Pedobiologia 46:15–23; its series as carried in a program of van der Vaart et al. 2015",
    "second-hand",
)
JOHNSTON_2014 = Source(
    "Johnston et al. 2014",
    "Johnston, Hodson, Thorbek, Alvarez & Sibly",
    "2014",
    "An energy budget agent-based model of earthworm populations and its application to study the effects of"
    " pesticides",
    "Ecological Modelling 280:5–17; its parameters as in the code published with van der Vaart et al. 2015",
    "abstract",
)
MITCHELL_1997 = Source(
    "Mitchell 1997",
    "Mitchell",
    "1997",
    "Production of Eisenia fetida and vermicompost from feed-lot cattle manure",
    "Soil Biology and Biochemistry 29:763–766",
    "abstract",
)
MUNROE = Source(
    "Munroe",
    "Munroe",
    "undated",
    "Manual of On-Farm Vermicomposting and Vermiculture",
    "Organic Agriculture Centre of Canada; its title page and contents read",
    "abstract",
)
NEUHAUSER_1980 = Source(
    "Neuhauser, Hartenstein & Kaplan 1980",
    "Neuhauser, Hartenstein & Kaplan",
    "1980",
    "Growth of the earthworm Eisenia foetida in relation to population density and food rationing",
    "Oikos 35:93–98",
    "abstract",
)
REEH_1992 = Source(
    "Reeh 1992",
    "Reeh",
    "1992",
    "Influence of population densities on growth and reproduction of the earthworm Eisenia andrei on pig manure",
    "Soil Biology and Biochemistry 24:1327",
    "abstract",
)
REINECKE_VILJOEN_1990 = Source(
    "Reinecke & Viljoen 1990",
    "Reinecke & Viljoen",
    "1990",
    "The influence of feeding patterns on growth and reproduction of the vermicomposting earthworm Eisenia fetida"
    " (Oligochaeta)",
    "Biology and Fertility of Soils 10:184–187",
    "abstract",
)
SHERMAN = Source(
    "Sherman, NC State Extension",
    "Sherman",
    "undated, an older copy 2003",
    "Raising earthworms successfully, and related extension texts",
    "NC State Extension, North Carolina State University",
    "read",
)
VAN_DER_VAART_2015 = Source(
    "van der Vaart et al. 2015",
    "van der Vaart, Beaumont, Johnston & Sibly",
    "2015",
    "Calibration and evaluation of individual-based models using approximate Bayesian computation",
    "Ecological Modelling 312:182–190",
    "second-hand",
)
VENTER_1988 = Source(
    "Venter & Reinecke 1988",
    "Venter & Reinecke",
    "1988",
    "The life-cycle of the compost worm Eisenia fetida (Oligochaeta)",
    "South African Journal of Zoology 23",
    "memory",
)
NOSB_2006 = Source(
    "NOSB 2006, NOP 5021",
    "US National Organic Standards Board",
    "2006 and later",
    "Use of Compost, Vermicompost, Processed Manure and Compost Tea (2006); Compost and Vermicompost in Organic Crop"
    " Production (NOP 5021, 2011)",
    "US National Organic Program",
    "abstract",
)
ELVIRA_1996 = Source(
    "Elvira, Domínguez & Mato 1996",
    "Elvira, Domínguez & Mato",
    "1996",
    "The growth and reproduction of Lumbricus rubellus and Dendrobaena rubida in cow manure. Mixed cultures with"
    " Eisenia andrei",
    "Applied Soil Ecology 5:97–103; its figures as kept in a public collection of animal traits",
    "second-hand",
)
ALI_2018 = Source(
    "Ali & Kashem 2018",
    "Ali & Kashem",
    "2018",
    "Life cycle of vermicomposting earthworms Eisenia fetida and Eudrilus eugeniae under laboratory controlled"
    " condition",
    "Biomedical Journal of Scientific & Technical Research",
    "abstract",
)
PAREDES_2000 = Source(
    "Paredes, Roig, Bernal et al. 2000",
    "Paredes, Roig, Bernal, Sánchez-Monedero & Cegarra",
    "2000",
    "Evolution of organic matter and nitrogen during co-composting of olive mill wastewater with solid organic wastes",
    "Biology and Fertility of Soils 32:222–227",
    "abstract",
)
ATIYEH_2000B = Source(
    "Atiyeh, Subler et al. 2000",
    "Atiyeh, Subler, Edwards, Bachman, Metzger & Shuster",
    "2000",
    "Effects of vermicomposts and composts on plant growth in horticultural container media and soil",
    "Pedobiologia 44:579–590",
    "abstract",
)
BLOUIN_2019 = Source(
    "Blouin et al. 2019",
    "Blouin, Barrere, Meyer, Lartigue, Barot & Mathieu",
    "2019",
    "Vermicompost significantly affects plant growth. A meta-analysis",
    "Agronomy for Sustainable Development 39:34",
    "read",
)
ARANCON_2004 = Source(
    "Arancon et al. 2004",
    "Arancon, Edwards, Bierman, Welch & Metzger",
    "2004",
    "Influences of vermicomposts on field strawberries: 1. Effects on growth and yields",
    "Bioresource Technology 93:145–153",
    "abstract",
)
NC_STATE_BIN = Source(
    "NC State Extension, home bins",
    "NC State Extension",
    "undated",
    "Worms can recycle your garbage",
    "home vermicomposting, North Carolina State University",
    "read",
)
ALBERTA_WORMS = Source(
    "University of Alberta",
    "University of Alberta",
    "undated",
    "How can you help?",
    "Alberta Worm Invasion: Worm Tracker, its advice on invasive earthworms",
    "read",
)
UW_MILLER = Source(
    "UW Miller Library",
    "Elisabeth C. Miller Library",
    "undated",
    "Vermicomposting best practices",
    "University of Washington",
    "read",
)
JOHNSTON_HERRICK_2019 = Source(
    "Johnston & Herrick 2019",
    "Johnston & Herrick",
    "2019",
    "Cocoon heat tolerance of pheretimoid earthworms Amynthas tokioensis and Amynthas agrestis",
    "American Midland Naturalist 181:299–309",
    "abstract",
)
HARIT_2014 = Source(
    "Harit et al. 2014",
    "Harit, Karthikeyan, Gajalakshmi & Abbasi",
    "2014",
    "Effect of storage on some physical and chemical characteristics of vermicast",
    "Journal of Applied Horticulture 16:112–116",
    "abstract",
)
MANYUCHI_2013 = Source(
    "Manyuchi & Phiri 2013",
    "Manyuchi & Phiri",
    "2013",
    "Effective separation of vermicasts from earthworms using a cylindrical rotary trommel separator",
    "International Journal of Innovative Research in Science, Engineering and Technology 2(8)",
    "abstract",
)
TOMATO_2017 = Source(
    "Simsek Ersahin et al. 2017",
    "Simsek Ersahin, Ece & Karnez",
    "2017",
    "Differential effects of a vermicompost fertilizer on emergence and seedling growth of tomato plants",
    "Turkish Journal of Agriculture: Food Science and Technology, October 2017",
    "abstract",
)
PINE_BARK_2015 = Source(
    "Murimba et al. 2015",
    "Murimba, Muzorewa, Mutetwa, Mtaita, Musimbo & Zimba",
    "2015",
    "Use of vermicompost as supplement to pine bark for seedling production in nurseries",
    "World Journal of Agricultural Research 3(4)",
    "abstract",
)
USCC_2001 = Source(
    "US Composting Council 2001",
    "US Composting Council",
    "2001",
    "Field Guide to Compost Use",
    "US Composting Council; title and year as a list of works has them, its figures from memory",
    "second-hand",
)
LITTLE_1961 = Source(
    "Little 1961",
    "Little",
    "1961",
    "A proof for the queuing formula L = λW",
    "Operations Research 9:383–387",
    "second-hand",
)
MONTGOMERY = Source(
    "Montgomery",
    "Montgomery",
    "several editions",
    "Introduction to Statistical Quality Control",
    "Wiley; constants for moving ranges of two",
    "second-hand",
)
NIST_HANDBOOK = Source(
    "NIST/SEMATECH e-Handbook",
    "NIST and SEMATECH",
    "undated",
    "e-Handbook of Statistical Methods",
    "6.3.2.2: individuals control charts",
    "second-hand",
)
WESTERN_ELECTRIC = Source(
    "Western Electric 1956",
    "Western Electric",
    "1956",
    "Statistical Quality Control Handbook",
    "run rules",
    "second-hand",
)
ROSIN_RAMMLER = Source(
    "Rosin & Rammler 1933",
    "Rosin & Rammler",
    "1933",
    "The laws governing the fineness of powdered coal",
    "Journal of the Institute of Fuel 7:29–36",
    "second-hand",
)
VAN_GESTEL_1992 = Source(
    "van Gestel et al. 1992",
    "van Gestel, Dirven-van Breemen & Baerselman",
    "1992",
    "Influence of environmental conditions on the growth and reproduction of the earthworm Eisenia andrei in an"
    " artificial soil substrate",
    "Pedobiologia 36:109–120",
    "abstract",
)
TRIPATHI_2004 = Source(
    "Tripathi & Bhardwaj 2004",
    "Tripathi & Bhardwaj",
    "2004",
    "Comparative studies on biomass production, life cycles and composting efficiency of Eisenia fetida (Savigny) and"
    " Lampito mauritii (Kinberg)",
    "Bioresource Technology 92:275–283; title from memory",
    "abstract",
)
SYLHET_2025 = Source(
    "Eurasian J. Soil Sci. 2025",
    "authors not noted",
    "2025",
    "Seasonal variations in the life cycle, growth and reproduction of Eisenia fetida and Eudrilus eugeniae",
    "Eurasian Journal of Soil Science 14(2), a trial in Sylhet, Bangladesh; its title after its abstract",
    "abstract",
)
GUNADI_EDWARDS_2003 = Source(
    "Gunadi & Edwards 2003",
    "Gunadi & Edwards",
    "2003",
    "The effects of multiple applications of different organic wastes on the growth, fecundity and survival of Eisenia"
    " fetida (Savigny) (Lumbricidae)",
    "Pedobiologia 47:321–329; its series as carried in the population model of Johnston et al. 2014",
    "second-hand",
)
DOMINGUEZ_EDWARDS_1997 = Source(
    "Domínguez & Edwards 1997",
    "Domínguez & Edwards",
    "1997",
    "Effects of stocking rate and moisture content on the growth and maturation of Eisenia andrei (Oligochaeta) in pig"
    " manure",
    "Soil Biology and Biochemistry 29:743–746; its figures as kept in a public collection of animal traits",
    "second-hand",
)
EDWARDS_1985 = Source(
    "Edwards 1985",
    "Edwards",
    "1985",
    "Production of feed protein from animal waste by earthworms",
    "Philosophical Transactions of the Royal Society B 310:299–307",
    "abstract",
)

# ---- named in the chapters' text
BUNGER_2000 = Source(
    "Bünger et al. 2000",
    "Bünger and others",
    "2000",
    "Health complaints and immunological markers of exposure to bioaerosols among biowaste collectors and compost"
    " workers",
    "Occupational and Environmental Medicine 57:458–464",
    "abstract",
)
CONTRERAS_RAMOS_2005 = Source(
    "Contreras-Ramos et al. 2005",
    "Contreras-Ramos, Escamilla-Silva & Dendooven",
    "2005",
    "Vermicomposting of biosolids with cow manure and oat straw",
    "Biology and Fertility of Soils 41",
    "abstract",
)
EASTMAN_2001 = Source(
    "Eastman et al. 2001",
    "Eastman, Kane, Edwards, Trytek, Gunadi, Stermer & Mobley",
    "2001",
    "The effectiveness of vermiculture in human pathogen reduction for USEPA biosolids stabilization",
    "Compost Science & Utilization 9:38–49",
    "abstract",
)
EDIS_AG416 = Source(
    "University of Florida Extension, EDIS AG416",
    "Ferrell, Dittmar, Sellers & Devkota",
    "2017",
    "Herbicide Residues in Manure, Compost, or Hay",
    "University of Florida, IFAS Extension, SS-AGR-415/AG416",
    "abstract",
)
EDWARDS_1995 = Source(
    "Edwards 1995",
    "Edwards",
    "1995",
    "Limits of the process of vermicomposting",
    "as a teaching page of the Hamburg University of Technology quotes them",
    "second-hand",
)
EDWARDS_2011 = Source(
    "Edwards 2011",
    "Edwards",
    "2011",
    "Introduction, history, and potential of vermicomposting technology",
    "Edwards, Arancon & Sherman (eds), Vermiculture Technology, CRC Press, chapter 1; its title from memory",
    "read",
)
FREDERICKSON_1997 = Source(
    "Frederickson, Butt, Morris & Daniel 1997",
    "Frederickson, Butt, Morris & Daniel",
    "1997",
    "Combining vermiculture with traditional green waste composting systems",
    "Soil Biology and Biochemistry 29:725–730",
    "second-hand",
)
GARG_2005 = Source(
    "Garg, Kaushik & Dilbaghi 2005",
    "Garg, Kaushik & Dilbaghi",
    "2005",
    "Growth and reproduction of Eisenia foetida in various animal wastes during vermicomposting",
    "Applied Ecology and Environmental Research 3; a passage of it seen",
    "abstract",
)
KANAGARAJ_2023 = Source(
    "Kanagaraj et al. 2023",
    "Kanagaraj and others",
    "2023",
    "A study on yield and gut flora diversity on vermicomposting of bio-waste using Eisenia fetida",
    "Asian Journal of Biological Sciences",
    "abstract",
)
MULDER_2007 = Source(
    "Mulder et al. 2007",
    "Mulder and others",
    "2007",
    "Empirical maximum lifespan of earthworms is twice that of mice",
    "Age 29:229–231; its authors from memory",
    "abstract",
)
HERNANDEZ_2010 = Source(
    "Hernández et al. 2010",
    "Hernández, Polo, Marmol, Barcenas, Pietrosemoli, Ramírez & Flores",
    "2010",
    "Improved performance of red worms (Eisenia andrei) in compost of cattle manure rinsed with water",
    "International Journal of Global Environmental Issues 10:255–264",
    "abstract",
)
HILL_2013 = Source(
    "Hill et al. 2013",
    "Hill, Lalander & Baldwin",
    "2013",
    "The effectiveness and safety of vermi- versus conventional composting of human feces with Ascaris suum ova as"
    " model helminthic parasites",
    "Journal of Sustainable Development 6(4)",
    "abstract",
)
ILLINOIS = Source(
    "Illinois Extension",
    "University of Illinois Extension",
    "undated",
    "Questions and answers about worms and bins",
    "Illinois Extension",
    "read",
)
MEKARN_2003 = Source(
    "MEKARN 2003", "Thang", "2003", "Worms on manures of the farm", "papers of the MEKARN network", "read"
)
MUSYOKA_2020 = Source(
    "Musyoka et al. 2020",
    "Musyoka, Liti, Ogello, Meulenbroek & Waidbacher",
    "2020",
    "Using earthworm, Eisenia fetida, to bio-convert agro-industrial wastes for aquaculture nutrition",
    "BioResources 15(1); year and volume from memory",
    "abstract",
)
NC_STATE_CARRYOVER = Source(
    "North Carolina State Extension, herbicides",
    "North Carolina State Extension",
    "undated",
    "Herbicide carryover in hay, manure, compost and grass clippings",
    "North Carolina State University",
    "read",
)
OREGON_STATE_2008 = Source(
    "Oregon State University Extension 2008",
    "Oregon State University Extension",
    "2008",
    "Coffee Grounds Perk Up Compost Pile With Nitrogen",
    "as its compost specialists reported them in a news release",
    "read",
)
OWOJORI_2009 = Source(
    "Owojori et al. 2009",
    "Owojori and others",
    "2009",
    "Comparative study of the effects of salinity on life-cycle parameters of four soil-dwelling species (Folsomia"
    " candida, Enchytraeus doerjesi, Eisenia fetida and Aporrectodea caliginosa)",
    "Pedobiologia 52; authors, year and journal from memory",
    "abstract",
)
REINECKE_1992 = Source(
    "Reinecke, Viljoen & Saayman 1992",
    "Reinecke, Viljoen & Saayman",
    "1992",
    "The suitability of Eudrilus eugeniae, Perionyx excavatus and Eisenia fetida (Oligochaeta) for vermicomposting in"
    " southern Africa in terms of their temperature requirements",
    "Soil Biology and Biochemistry 24:1295",
    "abstract",
)
WASHINGTON_STATE_2011 = Source(
    "Washington State University Extension 2011",
    "Washington State University Extension",
    "2011",
    "Bioassay Test for Auxinic Herbicide Residues in Compost: Protocol for Gardeners in Washington State",
    "Whatcom County",
    "read",
)

# ---- methods of calculation
AITKEN_1926 = Source(
    "Aitken 1926",
    "Aitken",
    "1926",
    "On Bernoulli's numerical solution of algebraic equations",
    "Proceedings of the Royal Society of Edinburgh 46:289–305",
    "second-hand",
)
CORLESS_1996 = Source(
    "Corless et al. 1996",
    "Corless, Gonnet, Hare, Jeffrey & Knuth",
    "1996",
    "On the Lambert W function",
    "Advances in Computational Mathematics 5:329–359",
    "abstract",
)
DANTZIG_1957 = Source(
    "Dantzig 1957",
    "Dantzig",
    "1957",
    "Discrete-variable extremum problems",
    "Operations Research 5:266–277",
    "second-hand",
)
DANTZIG_1963 = Source(
    "Dantzig 1963",
    "Dantzig",
    "1963",
    "Linear Programming and Extensions",
    "Princeton University Press, as the notes of SciPy and others cite it",
    "second-hand",
)
FRITSCH_CARLSON_1980 = Source(
    "Fritsch & Carlson 1980",
    "Fritsch & Carlson",
    "1980",
    "Monotone piecewise cubic interpolation",
    "SIAM Journal on Numerical Analysis 17:238–246; ends and weights after Fritsch & Butland 1984, from memory: SIAM"
    " Journal on Scientific and Statistical Computing 5:300",
    "abstract",
)
HYLAND_WEXLER_1983 = Source(
    "Hyland & Wexler 1983",
    "Hyland & Wexler",
    "1983",
    "Formulations for the thermodynamic properties of the saturated phases of H2O from 173.15 K to 473.15 K",
    "ASHRAE Transactions 89(2A):500–519",
    "second-hand",
)
MCKAY_1979 = Source(
    "McKay, Beckman & Conover 1979",
    "McKay, Beckman & Conover",
    "1979",
    "A comparison of three methods for selecting values of input variables in the analysis of output from a computer"
    " code",
    "Technometrics 21:239–245",
    "second-hand",
)
OPENSTAX_FINANCE = Source(
    "OpenStax, Principles of Finance",
    "OpenStax",
    "2022",
    "Principles of Finance",
    "open textbook, Rice University: time value of money, net present value, internal rate of return",
    "read",
)
OPENSTAX_ACCOUNTING = Source(
    "OpenStax, Managerial Accounting",
    "OpenStax",
    "2019",
    "Principles of Accounting, volume 2: Managerial Accounting",
    "open textbook, Rice University: cost, volume and profit",
    "read",
)
PHILLIPSON_BOLTON_1976 = Source(
    "Phillipson & Bolton 1976",
    "Phillipson & Bolton",
    "1976",
    "The respiratory metabolism of selected Lumbricidae",
    "Oecologia 22:135–152",
    "abstract",
)
RANNACHER_1984 = Source(
    "Rannacher 1984",
    "Rannacher",
    "1984",
    "Finite element solution of diffusion problems with irregular data",
    "Numerische Mathematik 43:309–327",
    "second-hand",
)
STUDENT_1908 = Source(
    "Student 1908", "Student", "1908", "The probable error of a mean", "Biometrika 6:1–25", "second-hand"
)
WILSON_1927 = Source(
    "Wilson 1927",
    "Wilson",
    "1927",
    "Probable inference, the law of succession, and statistical inference",
    "Journal of the American Statistical Association 22:209–212",
    "second-hand",
)
FRANCE_2012 = Source(
    "France, order of 20 April 2012",
    "French Republic",
    "2012",
    "Arrêté du 20 avril 2012 relatif aux prescriptions générales applicables aux installations classées de compostage"
    " soumises à enregistrement sous la rubrique n° 2780",
    "Journal officiel n° 104 of 3 May 2012",
    "read",
)
HILLIER_LIEBERMAN = Source(
    "Hillier & Lieberman",
    "Hillier & Lieberman",
    "several editions",
    "Introduction to Operations Research",
    "McGraw-Hill; the Wyndor Glass example and its answer as programs and lessons quote them",
    "second-hand",
)
LITTLE_GRAVES_2008 = Source(
    "Little & Graves 2008",
    "Little & Graves",
    "2008",
    "Little's law",
    "Building Intuition, Springer, chapter 5",
    "read",
)
ENERGYPLUS = Source(
    "EnergyPlus engineering reference",
    "US Department of Energy",
    "2026",
    "EnergyPlus engineering reference: direct evaporative coolers",
    "its equation for the air that leaves, as a change of it in April 2026 quotes it",
    "second-hand",
)
