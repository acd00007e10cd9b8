// Spelling and style of prose. Standard input: {"pages": {name: HTML}, "names": [words]};
// standard output: [{"where", "rule", "says", "sentence"}].
// Read are paragraphs, list items, cells, headings and labels; not code, formulas, drawings and titles of sources.
import { readFile } from "node:fs/promises";
import { text as everything } from "node:stream/consumers";

import dictionary from "dictionary-en-gb";
import { matches, select } from "hast-util-select";
import { search } from "nlcst-search";
import { toString } from "nlcst-to-string";
import rehypeParse from "rehype-parse";
import rehypeRetext from "rehype-retext";
import { ParseEnglish } from "parse-english";
import retextIndefiniteArticle from "retext-indefinite-article";
import retextRedundantAcronyms from "retext-redundant-acronyms";
import retextRepeatedWords from "retext-repeated-words";
import retextSimplify from "retext-simplify";
import retextSpell from "retext-spell";
import { unified } from "unified";
import { SKIP, visit } from "unist-util-visit";
import { VFile } from "vfile";

const LONGEST = 32; // words of a sentence
const NOT_PROSE = "svg, textarea, select, script, style, .headerlink, .calc-equation, .calc-numbers, .calc-source, .calc-sources, .calc-checks";

const lines = async (name) =>
  (await readFile(new URL(name, import.meta.url), "utf8")).split("\n").filter((line) => line && !line.startsWith("#"));
const [known, avoided, plain] = await Promise.all(["known.txt", "avoided.txt", "plain.txt"].map(lines));

/** Only the article of a page, without what isn't prose; a fragment without an article is taken whole. */
function onlyProse() {
  return (tree) => {
    const kept = select("article", tree) ?? tree;
    visit(kept, "element", (node, index, parent) => {
      if (parent && matches(NOT_PROSE, node)) {
        parent.children.splice(index, 1);
        return [SKIP, index];
      }
      if (parent && node.tagName === "br") parent.children[index] = { type: "text", value: "; ", position: node.position }; // two lines, two thoughts
    });
    if (kept !== tree) tree.children = [kept];
  };
}

/** Words that talk down, fill or scold: the list is avoided.txt. */
function avoidedWords() {
  return (tree, file) =>
    search(tree, avoided, (match, _, parent, phrase) => file.message(`“${phrase}” is on the list of words to avoid`, { ancestors: [parent], source: "avoided" }));
}

/** A sentence that no one can hold in mind. A semicolon parts it like a full stop; numbers are not words. */
function sentenceLength() {
  return (tree, file) =>
    visit(tree, "SentenceNode", (sentence) => {
      const parts = [0];
      for (const node of sentence.children) {
        if (node.type === "WordNode" && /\p{L}/u.test(toString(node))) parts[parts.length - 1] += 1;
        else if (toString(node) === ";") parts.push(0);
      }
      const words = Math.max(...parts);
      if (words > LONGEST) file.message(`${words} words in one sentence; ${LONGEST} at most`, { ancestors: [sentence], source: "length" });
      return SKIP;
    });
}

/** What the spelling checker says, shortly; undefined for units, codes and files such as m², D2216, feed_per_day or farm.yml. */
function misspelt({ actual, expected }) {
  if (!actual || /\w\.[a-z]{2,5}$/.test(actual) || /[\d_²³⁴⁵₀½¼¾⅛·/]/u.test(actual)) return undefined;
  return `“${actual}” is not in the dictionary${expected?.length ? `; near it: ${expected.slice(0, 3).join(", ")}` : ""}`;
}

const { pages, names } = JSON.parse(await everything(process.stdin));
const reader = unified()
  .use(rehypeParse)
  .use(onlyProse)
  .use(rehypeRetext, ParseEnglish)
  .use(retextSpell, { dictionary, personal: [...known, ...names].join("\n"), max: 30 })
  .use(retextRepeatedWords)
  .use(retextIndefiniteArticle)
  .use(retextRedundantAcronyms)
  .use(retextSimplify, { ignore: plain })
  .use(avoidedWords)
  .use(sentenceLength);

const found = [];
for (const [where, html] of Object.entries(pages)) {
  const file = new VFile({ path: where, value: html });
  await reader.run(reader.parse(file), file);
  for (const message of file.messages) {
    const rule = message.source.replace("retext-", "");
    const says = rule === "spell" ? misspelt(message) : message.reason;
    const sentence = message.ancestors?.findLast((node) => /Sentence|Paragraph/.test(node.type));
    if (says) found.push({ where, rule, says, sentence: sentence ? toString(sentence).replace(/\s+/g, " ") : "" });
  }
}
process.stdout.write(JSON.stringify(found));
