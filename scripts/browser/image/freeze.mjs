// The memory of a Python that has imported everything: bytes, and the few numbers that a page needs to go on from there.

import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { need, python, stop } from "./python.mjs";

const here = dirname(fileURLToPath(import.meta.url));
// dlmalloc: a bit in the head of a chunk; from this size on chunks hang in a tree; what stands behind the last one.
const MARSHALLED_CODE = 0xe3; // first byte of a code object in bytecode
const PAGE = 65536; // bytes
const IN_USE = 2, LARGE = 256, FOOT = 40;

/** Zero what the allocator holds as free. Its chunks follow each other without a gap, so a walk that ends at the end has seen all. */
function zeroFree(image, view, start, end) {
  const chunks = [];
  let at = start;
  for (let size; at < end - FOOT; at += size) {
    const head = view.getUint32(at + 4, true);
    size = head & ~7;
    if (size < 16 || at + size > end - FOOT) stop("its heap is not laid out as chunks of dlmalloc");
    chunks.push([at, size, head & IN_USE]);
  }
  for (const [place, size, used] of chunks) if (!used) image.fill(0, place + (size < LARGE ? 16 : 32), place + size);
  return chunks.length;
}

/** Zero the bytecode of the modules that lie in the machine code (struct _frozen: name, code, size, whether a package), and end their
 *  tables before the first: what was needed of them has been imported, and nobody finds the rest. */
function zeroFrozen(image, view, address) {
  for (const name of ["_PyImport_FrozenBootstrap", "_PyImport_FrozenStdlib", "_PyImport_FrozenTest"]) {
    const table = view.getUint32(address(name), true);
    let last = 0;
    for (let at = table; view.getUint32(at, true); at += 16) {
      const code = view.getUint32(at + 4, true), size = view.getUint32(at + 8, true);
      if (![0, MARSHALLED_CODE].includes(image[code])) stop("its frozen modules are not laid out as tables");
      image.fill(0, code, code + size); // two names may have one code
      last = at;
    }
    if (!last) stop(`${name} is empty`);
    image.fill(0, table, last + 16);
  }
}

/** What the host reckons too when it has laid the image: see host.js. */
function sum(image) {
  let first = 0, second = 0;
  for (let at = 0; at < image.length; at += 4) second = (second + (first = (first + image.readInt32LE(at)) | 0)) | 0;
  return second;
}

/** Names of the modules that are imported when every calculator is used in every way. */
export async function needed(library) {
  const { run, FS } = await python(library);
  run(`${readFileSync(join(here, "..", "runtime", "exercise.py"), "utf8")}
with open("/modules", "w") as file:
    json.dump(MODULES, file)`);
  return JSON.parse(FS.readFile("/modules", { encoding: "utf8" })).filter((name) => name !== "__main__");
}

/** The memory of a Python that has imported `modules` from a library, with a farm's edition; `globals` are addresses that its
 *  machine code was given, by module and name. */
export async function freeze(library, modules, edition) {
  const { run, FS, exports, address, addresses, memory, table } = await python(library);
  run(`MODULES = ${JSON.stringify(modules)}\nEDITION = ${JSON.stringify(edition)}\n${readFileSync(join(here, "freeze.py"), "utf8")}`);
  const globals = addresses();
  const { __memory_base: base, __stack_pointer: stack } = globals.env;
  const { __stack_low: stackLow, __stack_high: stackHigh, __heap_base: heap } = globals["GOT.mem"];
  const end = need(exports.sbrk, "sbrk")(0) >>> 0;
  if (base % 4 || stackLow % 4 || stack % 4 || end % 4 || !(stackLow < stack && stack <= stackHigh && stackHigh <= heap && heap < end)) stop("its memory is not laid out as data, stack, heap");
  const whole = new Uint8Array(memory.buffer).slice(0, end);
  const view = new DataView(whole.buffer);
  zeroFree(whole, view, heap, end);
  zeroFrozen(whole, view, address);
  const counter = address("_PyRuntime") + view.getInt32(address("_PyEM_EMSCRIPTEN_COUNT_ARGS_OFFSET"), true);
  view.setInt32(counter, 0, true); // a page makes its own, where its browser can
  const image = Buffer.concat([whole.subarray(base, stackLow), whole.subarray(stack)]); // the free part of the stack is empty at the start
  return {
    image, sum: sum(image), globals, base, stackLow, stack, end, counter,
    pages: memory.buffer.byteLength / PAGE,
    table: table.length,
    ...JSON.parse(FS.readFile("/facts", { encoding: "utf8" })), // answer: the address of the function that answers; chapters
  };
}
