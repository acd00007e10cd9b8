// Makes what the page runs: node build.mjs --calc FOLDER --out FOLDER [--edition JSON of a farm's defaults] [--kept FOLDER of what an
// earlier build may have left] [--ordinary]. Prints the names of what it made as JSON.
// The version of Pyodide stands in package.json and nowhere else.

import { createHash } from "node:crypto";
import { existsSync, mkdirSync, mkdtempSync, readdirSync, readFileSync, renameSync, rmSync, writeFileSync } from "node:fs";
import { createRequire } from "node:module";
import { tmpdir } from "node:os";
import { dirname, join, relative } from "node:path";
import { fileURLToPath } from "node:url";
import { parseArgs, promisify } from "node:util";
import { gzip } from "node:zlib";
import { build, transformSync } from "esbuild";
import { loadPyodide } from "pyodide";
import { makeImage } from "./image/make.mjs";

const here = dirname(fileURLToPath(import.meta.url));
const pyodide = dirname(createRequire(import.meta.url).resolve("pyodide"));
const { values: { calc, out, edition, kept, ordinary } } = parseArgs({
  options: { calc: { type: "string" }, out: { type: "string" }, edition: { type: "string", default: "" }, kept: { type: "string" }, ordinary: { type: "boolean", default: false } },
});

const text = (...names) => readFileSync(join(...names), "utf8");

/** Names of every file below a folder that ends in .py. */
const sources = (folder) => readdirSync(folder, { recursive: true }).filter((name) => name.endsWith(".py")).sort();

/** Put them into the file system of a Python. */
function copyInto(python, folder, target) {
  for (const name of sources(folder)) {
    const path = `${target}/${name.replaceAll("\\", "/")}`;
    python.FS.mkdirTree(dirname(path));
    python.FS.writeFile(path, readFileSync(join(folder, name)));
  }
}

/** Run one of our scripts and hand back a global of it. */
function result(python, script, name) {
  try {
    python.runPython(text(here, "runtime", script));
  } catch (error) {
    console.error(error.message); // Python's own traceback; the other one shows a megabyte of the runtime script
    process.exit(1);
  }
  return python.globals.get(name).toJs();
}

/** The standard library cut to what is imported, with our package, compiled by the Python that will run it. */
async function library() {
  const folder = mkdtempSync(join(tmpdir(), "library-"));
  const stdLibURL = join(folder, "whole.zip");
  try {
    // Without columns in tracebacks the bytecode is a fifth smaller.
    const whole = await loadPyodide({ stdLibURL: join(pyodide, "python_stdlib.zip"), env: { PYTHONNODEBUGRANGES: "1" } });
    copyInto(whole, join(here, "runtime", "instead"), "/instead");
    copyInto(whole, calc, "/calc_source/calc");
    writeFileSync(stdLibURL, result(whole, "replace.py", "LIBRARY"));
    const lean = await loadPyodide({ stdLibURL });
    copyInto(lean, calc, "/calc_source/calc");
    const modules = result(lean, "exercise.py", "MODULES");
    whole.globals.set("MODULES", whole.toPy(modules));
    return result(whole, "cut.py", "LIBRARY");
  } finally {
    rmSync(folder, { recursive: true });
  }
}

/** The library, made only when something that goes into it has changed: Pyodide is started three times for it. */
async function keptLibrary() {
  if (!kept) return library();
  const digest = createHash("sha256");
  const read = [fileURLToPath(import.meta.url), join(pyodide, "package.json"), join(pyodide, "python_stdlib.zip")];
  for (const folder of [join(here, "runtime"), calc]) read.push(...sources(folder).map((name) => join(folder, name)));
  for (const path of read) digest.update(`${relative(calc, path)}\0`).update(createHash("sha256").update(readFileSync(path)).digest());
  const file = join(kept, `library-${digest.digest("hex").slice(0, 16)}.zip`);
  if (existsSync(file)) return readFileSync(file);
  const made = await library();
  mkdirSync(kept, { recursive: true });
  for (const name of readdirSync(kept).filter((name) => /^library-.*zip$/.test(name))) rmSync(join(kept, name), { force: true });
  writeFileSync(`${file}.${process.pid}`, made);
  renameSync(`${file}.${process.pid}`, file); // whole, whoever else is building
  return made;
}

/** What starts first in the worker, small enough to stand in the head of a page. */
function prelude(names) {
  return transformSync(text(here, "runtime", "prelude.js").replace("__FILES__", JSON.stringify(names)), { minify: true, target: "es2022" }).code;
}

/** The rest of the worker: the runtime script, its loader, our last part, with the outside address of the loader taken out. */
function worker() {
  const loader = text(pyodide, "pyodide.js").replace(/\/\/# sourceMappingURL=.*/, "");
  const closed = loader.replace(/https:\/\/[a-z.]+\/pyodide\/v\$\{\w+\}\/full\//, "file:///runtime/");
  if (closed === loader || /https?:\/\//.test(closed)) throw new Error("the loader of Pyodide names an outside address: look at worker() in build.mjs");
  const { info } = JSON.parse(text(pyodide, "pyodide-lock.json"));
  return [
    text(pyodide, "pyodide.asm.js"),
    closed,
    text(here, "runtime", "worker.js").replace("__LOCK_INFO__", () => JSON.stringify(info)).replace("__EDITION__", () => JSON.stringify(edition)),
  ].join("\n;\n");
}

/** A script of the page, one classic file: it also has to run where modules may not be loaded. */
async function script(entry, globalName) {
  const { outputFiles } = await build({
    entryPoints: [join(here, entry)], bundle: true, minify: true, format: "iife", globalName, target: "es2022", write: false,
    legalComments: "none", charset: "utf8", define: { "process.env.NODE_ENV": '"production"' },
  });
  return outputFiles[0].contents;
}

const runtime = join(out, "assets", "runtime");
rmSync(runtime, { recursive: true, force: true });
mkdirSync(runtime, { recursive: true });

/** Write a file under a name that says its contents. */
function write(name, ending, contents) {
  const bytes = Buffer.from(contents);
  const hashed = `${name}.${createHash("sha256").update(bytes).digest("hex").slice(0, 12)}.${ending}`;
  writeFileSync(join(runtime, hashed), bytes);
  return hashed;
}

/** The same bytes as a classic script, for a copy opened from disk: base64 of gzip, given to whoever waits for it. */
async function writeForDisk(name, contents) {
  const packed = await promisify(gzip)(contents, { level: 9 });
  packed[9] = 255; // the system that packed it is nobody's business, and two systems give the same bytes
  return write(`${name}.disk`, "js", `(globalThis.handbookFiles??={})["${name}"]="${packed.toString("base64")}";\n`);
}

/** What starts Python in the worker: its machine code, its library, and the script between them and the page. */
async function parts() {
  const zip = await keptLibrary();
  if (ordinary) return { machine: readFileSync(join(pyodide, "pyodide.asm.wasm")), library: zip, script: worker() };
  const { machine, image, worker: host } = await makeImage(zip, edition, kept);
  return { machine, library: image, script: host };
}

const { machine, library: shelf, script: rest } = await parts();
const names = { "pyodide.asm.wasm": write("python", "wasm", machine), "python_stdlib.zip": write("library", ordinary ? "zip" : "bin", shelf) };
const first = prelude(names);
const workerFile = write("worker", "js", rest);
const start = `${first}importScripts(new URL("${workerFile}",self.handbookFolder??location.href));if(!self.handbookComplete)throw new Error("the script of the runtime is not what it should be")`;
const made = {
  start: write("start", "js", start),
  startText: start,
  worker: workerFile, // for when it has to be fetched anew
  ...names,
  disk: { worker: await writeForDisk("worker", first + rest), "pyodide.asm.wasm": await writeForDisk("pyodide.asm.wasm", machine), "python_stdlib.zip": await writeForDisk("python_stdlib.zip", shelf) },
  figures: write("figures", "js", await script("figure/draw.mjs", "handbookFigures")),
  copy: write("copy", "js", await script("offline/page.js", "handbookCopy")),
  plan: write("plan", "js", await script("page/plan_page.js", "handbook_plan")),
  intact: write("intact", "js", await script("page/intact.js", "handbook_intact")),
  code: write("code", "js", await script("page/code.js", "handbook_code")),
  page: write("page", "js", await script("page/main.js")),
};
writeFileSync(join(out, "sw.js"), await script("offline/worker.js")); // scripts/site/offline.py tells it the files of the finished site
process.stdout.write(`${JSON.stringify({ folder: relative(out, runtime), ...made })}\n`);
