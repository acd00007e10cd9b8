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
