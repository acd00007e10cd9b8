"""The works that figures come from, each once. Append yours in alphabetical order."""

from calc.facts.base import DEMO, PRACTICE, Source

__all__ = ["DEMO", "PRACTICE"]

EDWARDS_ARANCON_2004 = Source(
    "Edwards & Arancon 2004",
    "The use of earthworms in the breakdown of organic wastes, chapter 18 in Earthworm Ecology, 2nd ed., CRC Press",
)
NDEGWA_2000 = Source(
    "Ndegwa, Thompson & Das 2000",
    "Effects of stocking density and feeding rate on vermicomposting of biosolids. Bioresource Technology 71:5–12",
)

# ---- feed and bedding
ALBERTA_2005 = Source("Alberta Agriculture 2005", "Manure Composting Manual, Agdex 400/27-1, table 3")
CASADY_1962 = Source("Casady 1962", "Value and Use of Rabbit Manure, USDA Agricultural Research Service")
CFR_205 = Source(
    "7 CFR 205.203", "US National Organic Program, soil fertility and crop nutrient management practice standard"
)
CFR_503 = Source(
    "40 CFR 503",
    "US standards for the use or disposal of sewage sludge, 503.32, 503.33 and appendix B; read in the copies of"
    " several states",
)
COMPOSTING_HANDBOOK_2022 = Source(
    "The Composting Handbook 2022",
    "Rynk (ed.), A how-to and why manual for farm, municipal, institutional and commercial composters, table 4.2",
)
COOPERBAND_2002 = Source(
    "Cooperband 2002",
    "The Art and Science of Composting, University of Wisconsin, Center for Integrated Agricultural Systems",
)
EPA_2016 = Source("EPA 1997, 2016", "Volume-to-weight conversion factors, US Environmental Protection Agency")
GOLUEKE_1972 = Source(
    "Golueke 1972",
    "Composting: a study of the process and its principles; table printed in Polprasert, Organic Waste Recycling,"
    " table 3.1",
)
GOTAAS_1956 = Source(
    "Gotaas 1956", "Composting: sanitary disposal and reclamation of organic wastes, WHO; with Adams and others 1951"
)
KAPLAN_1980 = Source(
    "Kaplan et al. 1980",
    "Physicochemical requirements in the environment of the earthworm Eisenia foetida. Soil Biology and"
    " Biochemistry 12",
)
NDEGWA_THOMPSON_2000 = Source(
    "Ndegwa & Thompson 2000", "Effects of C-to-N ratio on vermicomposting of biosolids. Bioresource Technology 75:7–12"
)
RYNK_1992 = Source(
    "Rynk (ed.) 1992", "On-Farm Composting Handbook, NRAES-54, Northeast Regional Agricultural Engineering Service"
)
CORNELL_1996 = Source(
    "Richard & Trautmann 1996", "Science and Engineering of Composting, Cornell Waste Management Institute"
)

# ---- moisture, water, heat and frost
ABRAMOWITZ_STEGUN_1964 = Source(
    "Abramowitz & Stegun 1964", "Handbook of Mathematical Functions, National Bureau of Standards, 26.7: Student's t"
)
AHN_2009 = Source(
    "Ahn et al. 2009",
    "Thermal conductivity, heat capacity and diffusivity of materials for composting mortalities. Bioresource"
    " Technology 100:3974–3981",
)
ASHRAE_2017 = Source("ASHRAE 2017", "ASHRAE Handbook: Fundamentals, chapter 1, Psychrometrics")
ASTM_D2216 = Source(
    "ASTM D2216", "Standard test methods for water content of soil and rock by mass (dry basis, oven at 110 ± 5 °C)"
)
ASTM_D4643 = Source("ASTM D4643", "Standard test method for water content of soil by microwave oven heating")
CRANK_NICOLSON_1947 = Source(
    "Crank & Nicolson 1947",
    "A practical method for numerical evaluation of solutions of partial differential equations of the heat-conduction"
    " type. Proceedings of the Cambridge Philosophical Society 43:50–67",
)
DE_VRIES_1963 = Source(
    "de Vries 1963", "Thermal properties of soils, in van Wijk (ed.), Physics of Plant Environment, North-Holland"
)
FAO_56 = Source(
    "FAO-56",
    "Allen, Pereira, Raes & Smith 1998, Crop evapotranspiration: guidelines for computing crop water requirements. FAO"
    " Irrigation and Drainage Paper 56",
)
HAUG_1993 = Source("Haug 1993", "The Practical Handbook of Compost Engineering, Lewis Publishers")
ISO_6946 = Source("ISO 6946", "Building components and building elements: thermal resistance and thermal transmittance")
LOEHR_1985 = Source(
    "Loehr, Neuhauser & Malecki 1985",
    "Factors affecting the vermistabilization process: temperature, moisture content and polyculture. Water"
    " Research 19",
)
MOENE_VAN_DAM_2014 = Source(
    "Moene & van Dam 2014",
    "Transport in the Atmosphere–Vegetation–Soil Continuum, Cambridge University Press, table 2.2 (after de Vries"
    " 1963)",
)
PENMAN_1948 = Source(
    "Penman 1948",
    "Natural evaporation from open water, bare soil and grass. Proceedings of the Royal Society A 194:120–145",
)
REINECKE_VENTER_1987 = Source(
    "Reinecke & Venter 1987",
    "Moisture preferences, growth and reproduction of the compost worm Eisenia fetida. Biology and Fertility of Soils"
    " 3:135",
)
TMECC_2001 = Source(
    "TMECC 2001",
    "Test Methods for the Examination of Composting and Compost, US Department of Agriculture and US Composting"
    " Council, method 03.09-A",
)
CEH_2016 = Source(
    "CEH 2016",
    "Laboratory data on Eisenia fetida at 20 °C, Centre for Ecology & Hydrology, as kept in a public collection of"
    " animal traits (Augustine, Spurgeon, Rasnaca & Gergs 2017)",
)
DOMINGUEZ_2004 = Source(
    "Domínguez 2004",
    "State of the art and new perspectives on vermicomposting research, in Earthworm Ecology, 2nd ed., CRC Press",
)
DURAN_2009 = Source(
    "Durán & Henríquez 2009",
    "Growth and reproduction of Eisenia fetida in five organic wastes. Agronomía Costarricense",
)
EDWARDS_1988 = Source(
    "Edwards 1988",
    "Breakdown of animal, vegetable and industrial organic wastes by earthworms, in Earthworms in Waste and"
    " Environmental Management, SPB",
)
GUNADI_2002 = Source(
    "Gunadi, Blount & Edwards 2002",
    "The growth and fecundity of Eisenia fetida in cattle solids. Pedobiologia 46, series as carried in the population"
    " model of Johnston et al. 2014",
)
JOHNSTON_2014 = Source(
    "Johnston et al. 2014",
    "Earthworm distribution and abundance predicted by a process-based model. Ecological Modelling 280:5",
)
MITCHELL_1997 = Source(
    "Mitchell 1997",
    "Production of Eisenia fetida and vermicompost from feed-lot cattle manure. Soil Biology & Biochemistry 29",
)
MUNROE = Source("Munroe", "Manual of On-Farm Vermicomposting and Vermiculture, Organic Agriculture Centre of Canada")
NEUHAUSER_1980 = Source(
    "Neuhauser, Hartenstein & Kaplan 1980",
    "Growth of the earthworm Eisenia foetida in relation to population density and food rationing. Oikos 35:93",
)
REEH_1992 = Source(
    "Reeh 1992",
    "Influence of population densities on growth and reproduction of Eisenia andrei on pig manure. Soil Biology &"
    " Biochemistry 24:1327",
)
REINECKE_VILJOEN_1990 = Source(
    "Reinecke & Viljoen 1990",
    "The influence of feeding patterns on growth and reproduction of Eisenia fetida. Biology and Fertility of Soils 10",
)
SHERMAN = Source(
    "Sherman, NC State Extension",
    "Raising earthworms successfully and related extension texts, North Carolina State University",
)
VAN_DER_VAART_2015 = Source(
    "van der Vaart et al. 2015",
    "Calibration and evaluation of individual-based models using approximate Bayesian computation. Ecological Modelling"
    " 312:182",
)
VENTER_1988 = Source(
    "Venter & Reinecke 1988", "The life-cycle of the compost worm Eisenia fetida. South African Journal of Zoology 23"
)
NOSB_2006 = Source(
    "NOSB 2006, NOP 5021",
    "Recommendation and guidance on vermicompost in organic crop production, US National Organic Program",
)
ELVIRA_1996 = Source(
    "Elvira, Domínguez & Mato 1996",
    "The growth and reproduction of Lumbricus rubellus, Dendrobaena rubida and Eisenia andrei in cow manure. Applied"
    " Soil Ecology, as kept in a public collection of animal traits",
)
ALI_2018 = Source(
    "Ali & Kashem 2018",
    "Life cycle of vermicomposting earthworms Eisenia fetida and Eudrilus eugeniae under laboratory conditions."
    " Biomedical Journal of Scientific & Technical Research",
)
PAREDES_2000 = Source(
    "Paredes, Roig, Bernal et al. 2000",
    "Evolution of organic matter and nitrogen during co-composting. Biology and Fertility of Soils 32:222–227",
)
ATIYEH_2000B = Source(
    "Atiyeh, Subler et al. 2000",
    "Effects of vermicomposts and composts on plant growth in horticultural container media and soil. Pedobiologia"
    " 44:579–590",
)
BLOUIN_2019 = Source(
    "Blouin et al. 2019",
    "Vermicompost significantly affects plant growth: a meta-analysis. Agronomy for Sustainable Development 39:34",
)
ARANCON_2004 = Source(
    "Arancon et al. 2004", "Influences of vermicomposts on field strawberries. Bioresource Technology 93:145"
)
NC_STATE_BIN = Source(
    "NC State Extension, home bins",
    "Worms can recycle your garbage, home vermicomposting, North Carolina State University",
)
UW_MILLER = Source(
    "UW Miller Library", "Elisabeth C. Miller Library, University of Washington: worm composting and invasive worms"
)
JOHNSTON_HERRICK_2019 = Source(
    "Johnston & Herrick 2019",
    "Cocoon heat tolerance of pheretimoid earthworms Amynthas tokioensis and Amynthas agrestis. American Midland"
    " Naturalist 181:299–309",
)
HARIT_2014 = Source(
    "Harit et al. 2014",
    "Effect of storage on some physical and chemical characteristics of vermicast. Journal of Applied Horticulture"
    " 16:112–116",
)
MANYUCHI_2013 = Source(
    "Manyuchi & Phiri 2013",
    "Effective separation of vermicasts from earthworms using a cylindrical rotary trommel separator. International"
    " Journal of Innovative Research in Science, Engineering and Technology 2(8)",
)
TOMATO_2017 = Source(
    "Turkish J. Agriculture 2017",
    "Differential effects of a vermicompost fertilizer on emergence and seedling growth of tomato plants. Turkish"
    " Journal of Agriculture: Food Science and Technology, October 2017",
)
PINE_BARK_2015 = Source(
    "Ngaatendwe et al. 2015",
    "Use of vermicompost as supplement to pine bark for seedling production in nurseries. World Journal of Agricultural"
    " Research 3(4)",
)
USCC_2001 = Source("US Composting Council 2001", "Field Guide to Compost Use")
LITTLE_1961 = Source("Little 1961", "A proof for the queuing formula L = λW. Operations Research 9:383")
MONTGOMERY = Source(
    "Montgomery", "Introduction to Statistical Quality Control, Wiley; constants for moving ranges of two"
)
NIST_HANDBOOK = Source("NIST/SEMATECH e-Handbook", "Engineering statistics, 6.3.2.2: individuals control charts")
WESTERN_ELECTRIC = Source("Western Electric 1956", "Statistical Quality Control Handbook: run rules")
ROSIN_RAMMLER = Source(
    "Rosin & Rammler 1933", "The laws governing the fineness of powdered coal. Journal of the Institute of Fuel 7:29"
)
VAN_GESTEL_1992 = Source(
    "van Gestel et al. 1992",
    "Influence of environmental conditions on the growth and reproduction of the earthworm Eisenia andrei in an"
    " artificial soil substrate. Pedobiologia 36:109",
)
TRIPATHI_2004 = Source(
    "Tripathi & Bhardwaj 2004",
    "Growth and reproduction of Eisenia fetida and Lampito mauritii in a semi-arid climate. Bioresource Technology"
    " 92:275",
)
SYLHET_2025 = Source(
    "Eurasian J. Soil Sci. 2025",
    "Life cycle of Eisenia fetida in cow dung in winter and summer, Sylhet, Bangladesh. Eurasian Journal of Soil"
    " Science 14(2)",
)
GUNADI_EDWARDS_2003 = Source(
    "Gunadi & Edwards 2003",
    "Growth of Eisenia fetida in cattle solids, fed again in weeks 23 and 45. Series as carried in the population model"
    " of Johnston et al. 2014",
)
DOMINGUEZ_EDWARDS_1997 = Source(
    "Domínguez & Edwards 1997",
    "Effects of stocking rate and moisture content on the growth and maturation of Eisenia andrei in pig manure. Soil"
    " Biology and Biochemistry 29:743, as kept in a public collection of animal traits",
)
EDWARDS_1985 = Source(
    "Edwards 1985",
    "Production of feed protein from animal waste by earthworms. Philosophical Transactions of the Royal Society B"
    " 310:299",
)

# ---- named in the chapters' text
BUNGER = Source(
    "Bünger et al.",
    "Health complaints and antibodies in compost workers, Germany; a passage read in a review of the subject",
)
CONTRERAS_RAMOS_2005 = Source(
    "Contreras-Ramos et al. 2005",
    "Worms in biosolids with manure and oat straw, at three moistures. Biology and Fertility of Soils; abstract read",
)
EASTMAN_2001 = Source(
    "Eastman et al. 2001",
    "The effectiveness of vermiculture in human pathogen reduction for USEPA biosolids stabilization. Compost Science &"
    " Utilization 9:38",
)
EDIS_AG416 = Source(
    "University of Florida Extension, EDIS AG416", "Herbicide residues in manure, compost and hay; title from memory"
)
EDWARDS_1995 = Source(
    "Edwards 1995", "Limits of the process, as a teaching page of the Hamburg University of Technology quotes them"
)
EDWARDS_2011 = Source("Edwards 2011", "Vermiculture Technology, chapter 1, CRC Press")
FREDERICKSON_1997 = Source(
    "Frederickson, Butt, Morris & Daniel 1997",
    "Combining vermiculture with traditional green waste composting systems. Soil Biology and Biochemistry 29:725;"
    " passages read, authors and title from memory",
)
GARG_2005 = Source(
    "Garg, Kaushik & Dilbaghi 2005",
    "Eisenia fetida in the dung of cows, horses, sheep and others; abstract read in part",
)
HERLANT_MEEWIS_1967 = Source(
    "Herlant-Meewis 1967", "Length of life of Eisenia fetida, as Domínguez 2004 quotes it; from memory"
)
HERNANDEZ_2010 = Source(
    "Hernández et al. 2010",
    "Rinsed cattle manure and Eisenia andrei. International Journal of Global Environmental Issues 10:255; abstract"
    " read",
)
HILL_2013 = Source("Hill et al. 2013", "Worms and the eggs of roundworms. Journal of Sustainable Development 6(4)")
ILLINOIS = Source("Illinois Extension", "Questions and answers about worms and bins, University of Illinois")
MEKARN_2003 = Source("MEKARN 2003", "Thang 2003, worms on manures of the farm, in the papers of the MEKARN network")
MUSYOKA = Source("Musyoka et al.", "Worms in pre-composted kitchen, barley and coffee waste. BioResources")
NC_STATE_CARRYOVER = Source(
    "North Carolina State Extension, herbicides", "Herbicide carryover in hay, manure, compost and grass clippings"
)
OREGON_STATE_2008 = Source(
    "Oregon State University Extension 2008",
    "Coffee grounds in compost piles, as its compost specialists reported them in a news release",
)
OWOJORI = Source(
    "Owojori, Reinecke and others",
    "Salt in a natural soil and four species of its animals; abstract read. Owojori & Reinecke 2009, avoidance of salt,"
    " Chemosphere 75",
)
VILJOEN_REINECKE_1992 = Source(
    "Viljoen & Reinecke 1992",
    "Temperature requirements of three species of worm, with outdoor containers. Soil Biology and Biochemistry 24;"
    " abstract read",
)
WASHINGTON_STATE_2011 = Source(
    "Washington State University Extension 2011",
    "Bioassay test for auxinic herbicide residues in compost: protocol for gardeners, Whatcom County",
)

# ---- methods of calculation
AITKEN_1926 = Source(
    "Aitken 1926",
    "On Bernoulli's numerical solution of algebraic equations. Proceedings of the Royal Society of Edinburgh 46:289",
)
CORLESS_1996 = Source(
    "Corless et al. 1996",
    "Corless, Gonnet, Hare, Jeffrey & Knuth, On the Lambert W function. Advances in Computational Mathematics"
    " 5:329–359",
)
DANTZIG_1957 = Source("Dantzig 1957", "Discrete-variable extremum problems. Operations Research 5:266")
FRITSCH_CARLSON_1980 = Source(
    "Fritsch & Carlson 1980",
    "Monotone piecewise cubic interpolation. SIAM Journal on Numerical Analysis 17:238–246; ends and weights after"
    " Fritsch & Butland 1984, SIAM Journal on Scientific and Statistical Computing 5:300",
)
HYLAND_WEXLER_1983 = Source(
    "Hyland & Wexler 1983",
    "Formulations for the thermodynamic properties of the saturated phases of H2O from 173.15 K to 473.15 K. ASHRAE"
    " Transactions 89(2A):500–519",
)
MCKAY_1979 = Source(
    "McKay, Beckman & Conover 1979",
    "A comparison of three methods for selecting values of input variables in the analysis of output from a computer"
    " code. Technometrics 21:239–245",
)
OPENSTAX_FINANCE = Source(
    "OpenStax, Principles of Finance",
    "Open textbook, Rice University: time value of money, net present value, internal rate of return",
)
OPENSTAX_ACCOUNTING = Source(
    "OpenStax, Managerial Accounting",
    "Principles of Accounting, volume 2, open textbook, Rice University: cost, volume and profit",
)
RANNACHER_1984 = Source(
    "Rannacher 1984",
    "Finite element solution of diffusion problems with irregular data. Numerische Mathematik 43:309–327",
)
STUDENT_1908 = Source("Student 1908", "The probable error of a mean. Biometrika 6:1–25")
WILSON_1927 = Source(
    "Wilson 1927",
    "Probable inference, the law of succession, and statistical inference. Journal of the American Statistical"
    " Association 22:209–212",
)
