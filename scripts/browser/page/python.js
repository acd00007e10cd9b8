// The one worker in which Python runs. Over http it loads its own files; from disk the page reads them out of classic scripts,
// because nothing else may be read there.
// @ts-check

import { script } from "./element.js";
import { Given } from "./long.js";

/** @typedef {{ start: string, worker: string, "pyodide.asm.wasm": string, "python_stdlib.zip": string, disk: Record<string, string>, [other: string]: any }} Names */

// ms; what takes longer is stuck. A slow phone that does other things takes its time, and so does a slow line: a start that is given up
// is made once more, and finds what had come by then in the browser's own cache.
const PATIENCE = { answer: 20_000, explore: 60_000, fresh: 30_000, start: 60_000, again: 120_000 };

/** The worker that the head of the page has started (scripts/site/runtime.py), once.
 * @returns {Worker & { broken?: boolean } | undefined} */
function started() {
  const worker = globalThis.handbookWorker;
  globalThis.handbookWorker = undefined;
  return worker;
}

/** The same promise, or the word that it took too long: a file that is asked for and never comes is told by nobody else.
 * @template Value @param {number} milliseconds @param {Promise<Value>} promise @returns {Promise<Value>} */
function within(milliseconds, promise) {
  /** @type {ReturnType<typeof setTimeout> | undefined} */
  let clock;
  /** @type {Promise<never>} */
  const late = new Promise((_, reject) => { clock = setTimeout(() => reject(new Error("slow")), milliseconds); });
  return Promise.race([promise, late]).finally(() => clearTimeout(clock));
}

export class Python {
  /** @param {URL} folder @param {Names} names */
  constructor(folder, names) {
    this.folder = folder;
    this.names = names;
    /** @type {Map<number, { resolve: (answer: string) => void, reject: (error: Error) => void }>} */
    this.calls = new Map();
    this.next = 1;
    this.given = new Given(); // long texts that this Python knows
    this.turn = 0; // counts starts and stops: what began before the last one has no say any more
    /** @type {() => void} */
    this.settle = () => {};
    /** Resolves when the first answer is out, or when there will be none. @type {Promise<void>} */
    this.settled = new Promise((resolve) => { this.settle = resolve; });
    /** @type {Promise<void> | undefined} */
    this.ready = undefined;
    /** Fetches damaged files of the kept copy again; resolves with the names of those that could not be had. @type {(() => Promise<string[]>) | undefined} */
    this.mend = undefined;
    /** Told how many bytes of how many have come, while a start takes long. @type {(arrived: number, whole: number) => void} */
    this.arriving = () => {};
    /** @type {Worker | undefined} */
    this.worker = undefined;
    /** @type {string[] | undefined} */
    this.lost = undefined;
  }

  /** Start once; resolves when Python is up, rejects with a sentence for the reader. */
  start() {
    this.ready ??= this.#started(PATIENCE.start);
    return this.ready;
  }

  /** One start, and one more where it fails: a connection may have dropped, or a file of the kept copy is damaged.
   * @param {number} patience @returns {Promise<void>} */
  async #started(patience, again = false) {
    const turn = ++this.turn;
    try {
      await within(patience, this.#boot(turn));
    } catch (error) {
      if (turn !== this.turn) throw new Error("stopped");
      this.#end();
      if (!(error instanceof Error && error.message === "unsupported") && !again) {
        await this.#mended();
        if (turn !== this.turn) throw new Error("stopped");
        return this.#started(PATIENCE.again, true);
      }
      this.ready = undefined;
      this.settle();
      throw this.lost?.length ? new Error("lost") : error;
    }
  }

  /** Files of the kept copy are fetched again where they are damaged; what cannot be had is told when Python fails once more. */
  async #mended() {
    this.lost = await this.mend?.().catch(() => []);
    if (location.protocol.startsWith("http") && !navigator.serviceWorker?.controller) await this.#fresh();
  }

  /** The browser's own cache may hold a file that was cut off, or a stranger's page; since its name promises that it never changes,
   *  not even a reload would ask for it again. */
  #fresh() {
    const given = new AbortController();
    const fetched = ["start", "worker", "pyodide.asm.wasm", "python_stdlib.zip"].map(async (name) => (await fetch(new URL(this.names[name], this.folder), { cache: "reload", signal: given.signal })).arrayBuffer());
    // One that never comes is given up, or whoever asks for the same file next would wait behind it.
    return within(PATIENCE.fresh, Promise.allSettled(fetched)).catch(() => given.abort());
  }

  /** Ended; the next question starts it again. */
  stop() {
    this.turn++;
    this.ready = undefined;
    this.#end();
  }

  #end() {
    this.worker?.terminate();
    this.worker = undefined;
    this.given = new Given();
    for (const { reject } of this.calls.values()) reject(new Error("stopped"));
    this.calls.clear();
  }

  /** The parsed answer of calc.page.respond.
   * @param {string} call @param {Record<string, unknown>} args @returns {Promise<any>} */
  async ask(call, args) {
    await this.start();
    const answer = await this.#asked(call, args);
    if (!answer.lacking) return answer;
    this.given = new Given(); // it is told all of it once more
    return this.#asked(call, args);
  }

  /** @param {string} call @param {Record<string, unknown>} args @returns {Promise<any>} */
  async #asked(call, args) {
    const { worker } = this;
    if (!worker) throw new Error("stopped");
    const id = this.next++, { packed, unpacked } = this.given.pack(args);
    /** @type {ReturnType<typeof setTimeout> | undefined} */
    let clock;
    try {
      return unpacked(await new Promise((resolve, reject) => {
        this.calls.set(id, { resolve, reject });
        worker.postMessage({ id, call, args: packed });
        clock = setTimeout(() => {
          reject(new Error("stuck"));
          this.stop();
        }, call === "explore" ? PATIENCE.explore : PATIENCE.answer);
      }));
    } finally {
      clearTimeout(clock);
      this.calls.delete(id);
      this.settle();
    }
  }

  /** @param {number} turn @returns {Promise<void>} */
  async #boot(turn) {
    const served = location.protocol.startsWith("http");
    if (typeof WebAssembly !== "object" || typeof Worker !== "function" || !(served || typeof DecompressionStream === "function")) throw new Error("unsupported");
    /** @type {Worker & { broken?: boolean }} */
    const worker = started() ?? (served ? new Worker(new URL(this.names.start, this.folder)) : await this.#fromDisk(turn));
    if (turn !== this.turn) {
      worker.terminate();
      throw new Error("stopped");
    }
    this.worker = worker;
    return new Promise((resolve, reject) => {
      worker.addEventListener("message", ({ data }) => {
        if (data.ready) resolve();
        else if (data.arrived) this.arriving(data.arrived, data.whole);
        else if (data.failed) reject(new Error(data.failed));
        else if (data.error) this.calls.get(data.id)?.reject(new Error(data.error));
        else this.calls.get(data.id)?.resolve(data.answer);
      });
      worker.addEventListener("error", (event) => {
        const error = new Error(event.message || "the worker could not start");
        reject(error);
        for (const call of this.calls.values()) call.reject(error);
      });
      if (worker.broken) reject(new Error("the worker could not start"));
      worker.postMessage({ start: true });
    });
  }

  /** @param {number} turn */
  async #fromDisk(turn) {
    const [code, ...files] = ["worker", "pyodide.asm.wasm", "python_stdlib.zip"].map(async (name) => ({ name, bytes: await this.#unpacked(name) }));
    for (const file of files) file.catch(() => {}); // told below
    const worker = new Worker(URL.createObjectURL(new Blob([(await code).bytes], { type: "text/javascript" })));
    if (turn === this.turn) this.worker = worker; // ended with this start, should a file never come
    await Promise.all(files.map(async (file) => {
      const { name, bytes } = await file;
      worker.postMessage({ files: { [name]: bytes } }, [bytes.buffer]); // each as soon as it is there: the largest is read meanwhile
    }));
    return worker;
  }

  /** Bytes of one file: a script that sets base64 of gzip, read and unpacked. @param {string} name */
  async #unpacked(name) {
    await script(new URL(this.names.disk[name], this.folder)).catch(() => { throw new Error(`${name} is missing from this copy`); });
    const packed = globalThis.handbookFiles[name];
    delete globalThis.handbookFiles[name];
    const bytes = Uint8Array.fromBase64?.(packed) ?? Uint8Array.from(atob(packed), (letter) => letter.charCodeAt(0));
    const stream = new DecompressionStream("gzip");
    const writer = stream.writable.getWriter(); // Blob.stream() fails from disk in some engines
    writer.write(bytes);
    writer.close();
    return new Uint8Array(await new Response(stream.readable).arrayBuffer());
  }
}
