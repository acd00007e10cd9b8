// The one worker in which Python runs. Over http it loads its own files; from disk the page reads them out of classic scripts,
// because nothing else may be read there.

const PATIENCE = { answer: 20_000, explore: 60_000, fresh: 30_000 }; // ms; what takes longer is stuck. A slow phone that does other things takes its time.

/** The worker that the head of the page has started (scripts/site/runtime.py), once. */
function started() {
  const worker = globalThis.handbookWorker;
  globalThis.handbookWorker = undefined;
  return worker;
}

export class Python {
  constructor(folder, names) {
    this.folder = folder;
    this.names = names;
    this.calls = new Map();
    this.next = 1;
    /** Resolves when the first answer is out, or when there will be none. */
    this.settled = new Promise((resolve) => { this.settle = resolve; });
  }

  /** Start once; resolves when Python is up, rejects with a sentence for the reader. */
  start() {
    this.ready ??= this.#boot().catch((error) => {
      this.stop();
      if (error.message === "unsupported" || this.failedBefore) {
        this.settle();
        throw this.lost?.length ? new Error("lost") : error;
      }
      this.failedBefore = true; // once more: a connection may have dropped, or a file of the kept copy is damaged
      this.ready = this.#mended().then(() => {
        this.ready = undefined;
        return this.start();
      });
      return this.ready;
    });
    return this.ready;
  }

  /** Files of the kept copy are fetched again where they are damaged; what cannot be had is told when Python fails once more. */
  async #mended() {
    this.lost = await this.mend?.().catch(() => []);
    if (location.protocol.startsWith("http") && !navigator.serviceWorker?.controller) await this.#fresh();
  }

  /** The browser's own cache may hold a file that was cut off, or a stranger's page; since its name promises that it never changes,
   *  not even a reload would ask for it again. */
  #fresh() {
    const fetched = ["start", "worker", "pyodide.asm.wasm", "python_stdlib.zip"].map(async (name) => (await fetch(new URL(this.names[name], this.folder), { cache: "reload" })).arrayBuffer());
    return Promise.race([Promise.allSettled(fetched), new Promise((resolve) => setTimeout(resolve, PATIENCE.fresh))]);
  }

  stop() {
    this.worker?.terminate();
    this.worker = this.ready = undefined;
    for (const { reject } of this.calls.values()) reject(new Error("stopped"));
    this.calls.clear();
  }

  /** The parsed answer of calc.page.respond. */
  async ask(call, args) {
    await this.start();
    const id = this.next++;
    let clock;
    try {
      return JSON.parse(await new Promise((resolve, reject) => {
        this.calls.set(id, { resolve, reject });
        this.worker.postMessage({ id, call, args: JSON.stringify(args) });
        clock = setTimeout(() => {
          reject(new Error("stuck"));
          this.stop();
        }, PATIENCE[call] ?? PATIENCE.answer);
      }));
    } finally {
      clearTimeout(clock);
      this.calls.delete(id);
      this.settle();
    }
  }

  async #boot() {
    const served = location.protocol.startsWith("http");
    if (typeof WebAssembly !== "object" || typeof Worker !== "function" || !(served || typeof DecompressionStream === "function")) throw new Error("unsupported");
    const worker = started() ?? (served ? new Worker(new URL(this.names.start, this.folder)) : await this.#fromDisk());
    this.worker = worker;
    return new Promise((resolve, reject) => {
      worker.addEventListener("message", ({ data }) => {
        if (data.ready) resolve();
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

  async #fromDisk() {
    const [code, ...files] = ["worker", "pyodide.asm.wasm", "python_stdlib.zip"].map(async (name) => [name, await this.#unpacked(name)]);
    for (const file of files) file.catch(() => {}); // told below
    const worker = this.worker = new Worker(URL.createObjectURL(new Blob([(await code)[1]], { type: "text/javascript" })));
    await Promise.all(files.map(async (file) => {
      const [name, bytes] = await file;
      worker.postMessage({ files: { [name]: bytes } }, [bytes.buffer]); // each as soon as it is there: the largest is read meanwhile
    }));
    return worker;
  }

  /** Bytes of one file: a script that sets base64 of gzip, read and unpacked. */
  async #unpacked(name) {
    await new Promise((resolve, reject) => {
      const tag = Object.assign(document.createElement("script"), { src: new URL(this.names.disk[name], this.folder), onload: resolve, onerror: () => reject(new Error(`${name} is missing from this copy`)) });
      document.head.append(tag);
      tag.remove();
    });
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
