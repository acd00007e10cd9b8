// CPython as Pyodide compiled it, started under Node without Pyodide's own modules, so that its memory can be looked at.

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { dirname, join } from "node:path";

const require = createRequire(import.meta.url);
export const folder = dirname(require.resolve("pyodide"));
export const MACHINE = join(folder, "pyodide.asm.wasm");
const { version } = require("pyodide/package.json");

/** Stop in clear words when this Pyodide is not made as the ones before it. */
export function stop(what) {
  throw new Error(`The image cannot be made from Pyodide ${version}: ${what}. Build with --ordinary, and see scripts/browser/image/README.md.`);
}

/** Something that has to be there. */
export function need(found, what) {
  return found ?? stop(`it has no ${what}`);
}

const HOUR = 1_000_000_000; // [s since 1970] what the clock shows while an image is made: two images are the same to the byte

/** Imports of the machine code that give the same at every build: chance and clock. */
function steady(imports, memory) {
  const view = () => new DataView(memory.buffer);
  Object.assign(need(imports.wasi_snapshot_preview1, "interface to the system"), {
    random_get(start, size) {
      new Uint8Array(memory.buffer).fill(1, start >>> 0, (start + size) >>> 0);
      return 0;
    },
    clock_time_get(_clock, _precision, target) {
      view().setBigUint64(target >>> 0, BigInt(HOUR) * 1_000_000_000n, true);
      return 0;
    },
  });
  Object.assign(imports.env, { emscripten_date_now: () => HOUR * 1000, emscripten_get_now: () => 0 });
}

/** A fresh Python with the modules of a zip. run(text) runs a script in it. */
export async function python(zip) {
  const code = await WebAssembly.compile(readFileSync(MACHINE));
  const factory = need(require(join(folder, "pyodide.asm.js")) && globalThis._createPyodideModule, "_createPyodideModule");
  const now = Date.now;
  Date.now = () => HOUR * 1000; // files of the runtime's own file system carry their dates
  let started;
  const module = await factory({
    noInitialRun: true, print: console.error, printErr: console.error,
    API: { config: { env: {}, jsglobals: globalThis }, runtimeEnv: { IN_NODE: true } },
    preRun: [({ ENV, FS }) => {
      // Without columns in tracebacks the bytecode is a fifth smaller.
      Object.assign(ENV, { PYTHONHASHSEED: "0", PYTHONNODEBUGRANGES: "1", HOME: "/", PYTHONHOME: "/", PYTHONPATH: "/library.zip", USER: "reader", LANG: "C.UTF-8", _: "python" });
      FS.mkdirTree("/lib/python3.13/lib-dynload");
      FS.writeFile("/library.zip", zip);
    }],
    instantiateWasm(imports, done) {
      steady(imports, need(imports.env.memory, "memory of its own"));
      const sentinel = { create_sentinel: () => null, is_sentinel: () => 0 };
      const instance = new WebAssembly.Instance(code, { env: imports.env, wasi_snapshot_preview1: imports.wasi_snapshot_preview1, "GOT.mem": imports["GOT.mem"], "GOT.func": imports["GOT.func"], sentinel });
      started = { imports, exports: instance.exports };
      done(instance, code);
      return instance.exports;
    },
  });
  const { imports, exports } = need(started, "start that waits for us");
  const call = (name) => need(exports[name], name);
  const address = (name) => imports.env.__memory_base.value + need(exports[name]?.value, name);
  new DataView(imports.env.memory.buffer).setInt32(address("Py_NoSiteFlag"), 1, true);
  call("Py_InitializeEx")(0);
  const run = (text) => {
    const bytes = new TextEncoder().encode(`${text}\0`);
    const place = call("malloc")(bytes.length) >>> 0;
    new Uint8Array(imports.env.memory.buffer).set(bytes, place);
    const failed = call("PyRun_SimpleString")(place);
    call("free")(place);
    if (failed) throw new Error("Python stopped: its traceback stands above");
  };
  Date.now = now;
  /** {module: {name: value}} of the globals that the machine code was given. */
  const addresses = () => {
    const found = {};
    for (const { module: space, name, kind } of WebAssembly.Module.imports(code)) if (kind === "global") (found[space] ??= {})[name] = imports[space][name].value;
    return found;
  };
  return { run, FS: module.FS, exports, address, addresses, memory: imports.env.memory, table: imports.env.__indirect_function_table };
}

/** Bytes of the small module that counts the arguments of a function, as Pyodide makes it at each start. */
export function countArguments() {
  const found = readFileSync(join(folder, "pyodide.asm.js"), "utf8").match(/function getPyEMCountArgsPtr\(\)\{.{0,400}?new Uint8Array\((\[[\d,]+\])\)/);
  return JSON.parse(need(found?.[1], "function that counts arguments"));
}
