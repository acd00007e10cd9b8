// Stands last in the worker in place of Pyodide's own scripts: lays the image into memory, starts the machine code on it, and hands
// texts to `answer` in freeze.py and back. What an answer needs of the world is here; all else is refused.
import { Decompress } from "fzstd";

const IMAGE = __IMAGE__; // numbers that the build read from its Python, see freeze.mjs
const COUNT_ARGUMENTS = __COUNT_ARGUMENTS__;
const MOST_PAGES = 65536; // four gigabytes, as Pyodide allows
const PAUSE = 30; // ms between chapters
const SILENT = 1000, PACE = 250; // ms until the page is told how far the image has come, and between two words of it
const NOT_FOUND = -44; // ENOENT of WASI

const memory = new WebAssembly.Memory({ initial: IMAGE.pages, maximum: MOST_PAGES });
const table = new WebAssembly.Table({ initial: IMAGE.table + 1, element: "anyfunc" });
const encoder = new TextEncoder(), decoder = new TextDecoder();
let bytes = new Uint8Array(memory.buffer), numbers = new DataView(memory.buffer);
let counter = 0, python;

/** The two views of memory as it is now: it moves when it grows. */
function look() {
  if (bytes.buffer !== memory.buffer) [bytes, numbers] = [new Uint8Array(memory.buffer), new DataView(memory.buffer)];
}

const world = {
  memory,
  __indirect_function_table: table,
  __stack_pointer: new WebAssembly.Global({ value: "i32", mutable: true }, IMAGE.stack),
  __cpp_exception: new WebAssembly.Tag({ parameters: ["i32"] }),
  __c_longjmp: new WebAssembly.Tag({ parameters: ["i32"] }),
  emscripten_resize_heap(size) {
    const wanted = Math.min(MOST_PAGES * 65536, Math.max(size >>> 0, memory.buffer.byteLength * 1.2));
    try {
      memory.grow(Math.ceil((wanted - memory.buffer.byteLength) / 65536));
      return 1;
    } catch {
      return 0; // Python raises MemoryError
    }
  },
  emscripten_get_now: () => performance.now(),
  emscripten_date_now: () => Date.now(),
  clock_time_get(clock, _, target) {
    look();
    numbers.setBigUint64(target >>> 0, BigInt(Math.round((clock ? performance.now() : Date.now()) * 1e6)), true);
    return 0;
  },
  _PyEM_GetCountArgsPtr: () => counter,
  _PyEM_TrampolineCall_JS: (index, first, second, third) => table.get(index)(first, second, third),
  _Py_CheckEmscriptenSignals_Helper: () => 0,
  __syscall_openat: () => NOT_FOUND,
  __syscall_stat64: () => NOT_FOUND,
  __syscall_lstat64: () => NOT_FOUND,
  __syscall_newfstatat: () => NOT_FOUND,
  fd_write(_, parts, count, written) { // a warning of Python's
    look();
    let text = "", all = 0;
    for (let part = parts >>> 0; count > 0; part += 8, count--) {
      const [start, size] = [numbers.getUint32(part, true), numbers.getUint32(part + 4, true)];
      text += decoder.decode(bytes.slice(start, start + size));
      all += size;
    }
    numbers.setUint32(written >>> 0, all, true);
    console.warn(text);
    return 0;
  },
};
const refused = (name) => () => { throw new Error(`Python asked for ${name}`); };
const given = new Proxy(world, { get: (own, name) => own[name] ?? refused(name) });

/** Unpacked as it arrives: data, then stack and heap; the free part of the stack between them is empty. */
async function layImage() {
  const response = await self.fetch("python_stdlib.zip");
  let place = IMAGE.base;
  const packed = new Decompress((part) => {
    const data = part.subarray(0, Math.max(0, IMAGE.stackLow - place));
    bytes.set(data, place);
    place += data.length;
    if (data.length === part.length) return;
    if (place === IMAGE.stackLow) place = IMAGE.stack;
    bytes.set(part.subarray(data.length), place);
    place += part.length - data.length;
  });
  let arrived = 0, told = performance.now() + SILENT;
  for (const reader = response.body.getReader();;) {
    const { done, value } = await reader.read();
    if (done) break;
    packed.push(value);
    arrived += value.length;
    if (performance.now() < told) continue;
    told = performance.now() + PACE;
    postMessage({ arrived, whole: IMAGE.packed });
  }
  packed.push(new Uint8Array(0), true);
  if (place !== IMAGE.end || sum() !== IMAGE.sum) throw new Error("the image of Python is not what it should be");
}

/** A sum that shows a damaged byte, and two that changed places. */
function sum() {
  let first = 0, second = 0;
  for (const [start, end] of [[IMAGE.base, IMAGE.stackLow], [IMAGE.stack, IMAGE.end]]) {
    const words = new Int32Array(memory.buffer, start, (end - start) / 4);
    for (let index = 0; index < words.length; index++) second = (second + (first = (first + words[index]) | 0)) | 0;
  }
  return second;
}

/** A function that counts the arguments of another one spares a way round through JavaScript at each call of one of Python's own
 *  functions; not every browser has what it is made of, and iOS has it wrong. */
function countArguments() {
  const { platform = "", userAgent = "", maxTouchPoints = 0 } = navigator;
  if (/iPad|iPhone|iPod/.test(userAgent) || (platform === "MacIntel" && maxTouchPoints > 1)) return;
  try {
    const { exports } = new WebAssembly.Instance(new WebAssembly.Module(new Uint8Array(COUNT_ARGUMENTS)), { e: { t: table } });
    table.set(IMAGE.table, exports.f);
    counter = IMAGE.table;
    numbers.setInt32(IMAGE.counter, counter, true);
  } catch {} // then the way round
}

async function start() {
  const laid = layImage();
  laid.catch(() => {});
  const { instance } = await WebAssembly.instantiateStreaming(null, { env: given, wasi_snapshot_preview1: given, sentinel: given });
  await laid;
  look();
  countArguments();
  python = instance.exports;
}

function text(value) {
  const packed = encoder.encode(value), place = python.malloc(packed.length || 1) >>> 0;
  if (!place) throw new Error("there is no memory for the question");
  look();
  bytes.set(packed, place);
  const made = python.PyUnicode_FromStringAndSize(place, packed.length);
  python.free(place);
  if (!made) throw new Error("there is no memory for the question");
  return made;
}

/** What `answer` says to two texts. */
function ask(...texts) {
  const made = texts.map(text), place = python.malloc(16) >>> 0;
  look();
  made.forEach((object, index) => numbers.setUint32(place + 4 * index, object, true));
  const answer = python.PyObject_Vectorcall(IMAGE.answer, place, 2, 0);
  python.free(place);
  if (!answer) {
    python.PyErr_Clear();
    throw new Error("Python gave no answer");
  }
  const start = python.PyBytes_AsString(answer) >>> 0, size = python.PyBytes_Size(answer);
  look();
  const said = decoder.decode(bytes.subarray(start, start + size));
  for (const object of [...made, answer]) python.Py_DecRef(object);
  if (said[0] !== "A") throw new Error(said.slice(1));
  return said.slice(1);
}

/** The other chapters, one by one when the first answer is out, so that the next page is answered at once. */
async function importChapters() {
  for (const name of IMAGE.chapters) {
    await new Promise((resolve) => setTimeout(resolve, PAUSE)); // answers that are waited for come in between
    try {
      ask("import", name);
    } catch (error) {
      console.warn(error); // told again to whoever asks for it
    }
  }
}

let answered = false;
const started = Promise.race([self.handbookUnreadable, start()]);
started.catch(() => {});
self.addEventListener("message", async ({ data }) => {
  // Told when asked: the worker may be up before the script of the page listens.
  if (data.start) started.then(() => postMessage({ ready: true }), (error) => postMessage({ failed: String(error) }));
  if (!data.call) return;
  try {
    await started;
    postMessage({ id: data.id, answer: ask(data.call, data.args) });
    if (!answered) importChapters();
    answered = true;
  } catch (error) {
    postMessage({ id: data.id, error: String(error) });
  }
});
self.handbookComplete = true;
