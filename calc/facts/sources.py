"""The works that figures come from, each once. Append yours in alphabetical order."""

from calc.facts.base import DEMO, PRACTICE, Source

__all__ = ["DEMO", "PRACTICE"]

EDWARDS_ARANCON_2004 = Source("Edwards & Arancon 2004", "The use of earthworms in the breakdown of organic wastes, chapter 18 in Earthworm Ecology, 2nd ed., CRC Press")
NDEGWA_2000 = Source("Ndegwa, Thompson & Das 2000", "Effects of stocking density and feeding rate on vermicomposting of biosolids. Bioresource Technology 71:5–12")

# ---- feed and bedding
ALBERTA_2005 = Source("Alberta Agriculture 2005", "Manure Composting Manual, Agdex 400/27-1, table 3")
CASADY_1962 = Source("Casady 1962", "Value and Use of Rabbit Manure, USDA Agricultural Research Service")
CFR_205 = Source("7 CFR 205.203", "US National Organic Program, soil fertility and crop nutrient management practice standard")
CFR_503 = Source("40 CFR 503", "US standards for the use or disposal of sewage sludge, 503.32, 503.33 and appendix B; read in the copies of several states")
COMPOSTING_HANDBOOK_2022 = Source("The Composting Handbook 2022", "Rynk (ed.), A how-to and why manual for farm, municipal, institutional and commercial composters, table 4.2")
COOPERBAND_2002 = Source("Cooperband 2002", "The Art and Science of Composting, University of Wisconsin, Center for Integrated Agricultural Systems")
EPA_2016 = Source("EPA 1997, 2016", "Volume-to-weight conversion factors, US Environmental Protection Agency")
GOLUEKE_1972 = Source("Golueke 1972", "Composting: a study of the process and its principles; table printed in Polprasert, Organic Waste Recycling, table 3.1")
GOTAAS_1956 = Source("Gotaas 1956", "Composting: sanitary disposal and reclamation of organic wastes, WHO; with Adams and others 1951")
KAPLAN_1980 = Source("Kaplan et al. 1980", "Physicochemical requirements in the environment of the earthworm Eisenia foetida. Soil Biology and Biochemistry 12")
NDEGWA_THOMPSON_2000 = Source("Ndegwa & Thompson 2000", "Effects of C-to-N ratio on vermicomposting of biosolids. Bioresource Technology 75:7–12")
RYNK_1992 = Source("Rynk (ed.) 1992", "On-Farm Composting Handbook, NRAES-54, Northeast Regional Agricultural Engineering Service")
CORNELL_1996 = Source("Richard & Trautmann 1996", "Science and Engineering of Composting, Cornell Waste Management Institute")

# ---- moisture, water, heat and frost
ABRAMOWITZ_STEGUN_1964 = Source("Abramowitz & Stegun 1964", "Handbook of Mathematical Functions, National Bureau of Standards, 26.7: Student's t")
AHN_2009 = Source("Ahn et al. 2009", "Thermal conductivity, heat capacity and diffusivity of materials for composting mortalities. Bioresource Technology 100:3974–3981")
ASHRAE_2017 = Source("ASHRAE 2017", "ASHRAE Handbook: Fundamentals, chapter 1, Psychrometrics")
ASTM_D2216 = Source("ASTM D2216", "Standard test methods for water content of soil and rock by mass (dry basis, oven at 110 ± 5 °C)")
ASTM_D4643 = Source("ASTM D4643", "Standard test method for water content of soil by microwave oven heating")
CRANK_NICOLSON_1947 = Source("Crank & Nicolson 1947", "A practical method for numerical evaluation of solutions of partial differential equations of the heat-conduction type. Proceedings of the Cambridge Philosophical Society 43:50–67")
DE_VRIES_1963 = Source("de Vries 1963", "Thermal properties of soils, in van Wijk (ed.), Physics of Plant Environment, North-Holland")
FAO_56 = Source("FAO-56", "Allen, Pereira, Raes & Smith 1998, Crop evapotranspiration: guidelines for computing crop water requirements. FAO Irrigation and Drainage Paper 56")
HAUG_1993 = Source("Haug 1993", "The Practical Handbook of Compost Engineering, Lewis Publishers")
ISO_6946 = Source("ISO 6946", "Building components and building elements: thermal resistance and thermal transmittance")
LOEHR_1985 = Source("Loehr, Neuhauser & Malecki 1985", "Factors affecting the vermistabilization process: temperature, moisture content and polyculture. Water Research 19")
MOENE_VAN_DAM_2014 = Source("Moene & van Dam 2014", "Transport in the Atmosphere–Vegetation–Soil Continuum, Cambridge University Press, table 2.2 (after de Vries 1963)")
PENMAN_1948 = Source("Penman 1948", "Natural evaporation from open water, bare soil and grass. Proceedings of the Royal Society A 194:120–145")
REINECKE_VENTER_1987 = Source("Reinecke & Venter 1987", "Moisture preferences, growth and reproduction of the compost worm Eisenia fetida. Biology and Fertility of Soils 3:135")
TMECC_2001 = Source("TMECC 2001", "Test Methods for the Examination of Composting and Compost, US Department of Agriculture and US Composting Council, method 03.09-A")
