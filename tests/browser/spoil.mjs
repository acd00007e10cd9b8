// node spoil.mjs FOLDER byte|function: spoils the image in a folder, or its machine code, so that the gate has something to find.
import { readdirSync, readFileSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { join } from "node:path";

const [folder, what] = process.argv.slice(2);
const require = createRequire(new URL("../../scripts/browser/build.mjs", import.meta.url));
const file = (pattern) => join(folder, readdirSync(folder).find((name) => pattern.test(name)));

const spoil = {
  /** One letter of a word that a page shows, with the sum put right, as if the image had been made so. */
  async byte() {
    const { decompress } = require("fzstd"), { init, compress } = require("@bokuweb/zstd-wasm");
    const image = Buffer.from(decompress(readFileSync(file(/^library\..*bin$/)))), worker = readFileSync(file(/^worker\.[0-9a-f]+\.js$/), "utf8");
    const at = image.indexOf("Water to add");
    image.write("w", at);
    let first = 0, second = 0;
    for (let place = 0; place < image.length; place += 4) second = (second + (first = (first + image.readInt32LE(place)) | 0)) | 0;
    await init();
    writeFileSync(file(/^library\..*bin$/), compress(image, 1));
    writeFileSync(file(/^worker\.[0-9a-f]+\.js$/), worker.replace(/\bsum:-?\d+/, `sum:${second}`));
  },
  /** The body of a function of middling size. */
  async function() {
    const { default: binaryen } = await import(require.resolve("binaryen"));
    const module = binaryen.readBinary(readFileSync(file(/^python\..*wasm$/)));
    module.setFeatures(binaryen.Features.All);
    const functions = Array.from({ length: module.getNumFunctions() }, (_, index) => module.getFunctionByIndex(index));
    const sized = functions.map((each) => [binaryen.emitText(binaryen.getFunctionInfo(each).body).length, each]).sort(([a], [b]) => b - a);
    binaryen.Function.setBody(sized[Number(process.argv[4] ?? 12)][1], module.unreachable());
    writeFileSync(file(/^python\..*wasm$/), module.emitBinary());
  },
};
await spoil[what]();
