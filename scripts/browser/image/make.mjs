// Everything a page needs to start from an image: machine code, image, the numbers that the host has to know.

import { createHash } from "node:crypto";
import { existsSync, mkdirSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { compress, init } from "@bokuweb/zstd-wasm";
import { build } from "esbuild";
import { cut } from "./code.mjs";
import { freeze, needed } from "./freeze.mjs";
import { countArguments, MACHINE } from "./python.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const LEVEL = 19; // of zstd
const read = (name) => readFileSync(join(here, name), "utf8");

/** Made once for the same inputs: kept in a folder under a name that says them, older ones of its kind taken away. */
export async function keep(folder, kind, inputs, make) {
  if (!folder) return make();
  const digest = createHash("sha256");
  for (const input of inputs) digest.update(createHash("sha256").update(input).digest());
  const file = join(folder, `${kind}-${digest.digest("hex").slice(0, 16)}`);
  if (existsSync(file)) return readFileSync(file);
  const made = await make();
  mkdirSync(folder, { recursive: true });
  for (const name of readdirSync(folder).filter((name) => name.startsWith(`${kind}-`))) rmSync(join(folder, name), { force: true });
  writeFileSync(`${file}.${process.pid}`, made);
  renameSync(`${file}.${process.pid}`, file); // whole, whoever else is building
  return made;
}

/** Image and numbers as one piece of bytes: the numbers as JSON, their length before them. What has to be imported is the same for
 *  every edition. */
async function frozen(library, edition, kept) {
  const modules = await keep(kept, "modules", [library, ...rules()], async () => JSON.stringify(await needed(library)));
  const { image, ...numbers } = await freeze(library, JSON.parse(modules), edition);
  await init();
  const told = Buffer.from(JSON.stringify(numbers)), size = Buffer.alloc(4);
  size.writeUInt32LE(told.length);
  return Buffer.concat([size, told, compress(image, LEVEL)]);
}

/** What an image is made of, beside library and edition. */
const rules = () => [MACHINE, ...["make.mjs", "freeze.mjs", "freeze.py", "python.mjs", "../runtime/exercise.py"].map((name) => join(here, name))].map((path) => readFileSync(path));

/** {machine, image, worker} from a library of bytecode: the image packed, the worker a classic script. edition: JSON of a farm's
 *  defaults, or empty. */
export async function makeImage(library, edition, kept) {
  const made = await keep(kept, edition ? "edition" : "image", [library, edition, ...rules()], () => frozen(library, edition, kept));
  const start = 4 + made.readUInt32LE(0);
  const { globals, ...numbers } = JSON.parse(made.subarray(4, start));
  const machine = await keep(kept, "machine", [readFileSync(MACHINE), JSON.stringify(globals), read("code.mjs")], () => cut(globals));
  const image = made.subarray(start);
  return { machine, image, worker: await host({ ...numbers, packed: image.length }) };
}

async function host(numbers) {
  const { outputFiles } = await build({
    entryPoints: [join(here, "host.js")], bundle: true, minify: true, format: "iife", target: "es2022", write: false, legalComments: "none",
    define: { __IMAGE__: JSON.stringify(numbers), __COUNT_ARGUMENTS__: JSON.stringify(countArguments()) },
  });
  return outputFiles[0].text;
}
