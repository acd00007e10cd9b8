// html-validate over files of the built site: one JSON line for each fault. Reads names of files, one a line.
//
//     node validate.mjs <folder> < names

import { readFileSync } from "node:fs";
import { HtmlValidate } from "html-validate";

// What its authors recommend, but for the rules below: each with the reason why it is not held against these pages.
const LEFT_OUT = {
  "no-trailing-whitespace": "how the source of a page is laid out; no reader meets it",
  "attr-quotes": "taste: an attribute without quotes is sound where its value is one word",
  "doctype-style": "taste: the theme writes it in small letters, which the standard allows",
  "attribute-boolean-style": "taste: finished pages are written as browsers write them, hidden=\"\"",
  "attribute-empty-style": "taste: the same",
  "valid-id": "taste: the theme's own ids begin with two underscores, which the standard allows",
  "form-dup-name": "fields outside any form: the script reads each group of them by itself",
};
// Faults of the theme's own parts, which are the same on every page and hold back no reader.
const OF_THE_THEME = [
  { ruleId: "wcag/h32", selector: /header|__search/, why: "the form of the search and of the colours: nothing is sent, a choice acts at once" },
  { ruleId: "valid-autocomplete", selector: /#__(drawer|search)$/, why: "the check boxes that hold menu and search open" },
];

const rules = { ...Object.fromEntries(Object.keys(LEFT_OUT).map((rule) => [rule, "off"])), "aria-label-misuse": ["error", { allowAnyNamable: true }] };
const validator = new HtmlValidate({ root: true, extends: ["html-validate:recommended"], rules });
const [folder] = process.argv.slice(2);
for (const name of readFileSync(0, "utf8").split("\n").filter(Boolean)) {
  const { results } = await validator.validateString(readFileSync(`${folder}/${name}`, "utf8"), name);
  for (const { messages } of results) {
    for (const { ruleId, message, selector, line } of messages) {
      if (OF_THE_THEME.some((known) => known.ruleId === ruleId && known.selector.test(selector ?? ""))) continue;
      console.log(JSON.stringify({ name, line, rule: ruleId, message, selector }));
    }
  }
}
