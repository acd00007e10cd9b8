// Stands first in the worker: starts the two downloads and the reading of the machine code while the runtime script is still on its
// way, and is the only way in which anything here can fetch. Over http the files come from the folder of the runtime, and the page has
// this part in its head; from disk the page hands the files over.
{
  const names = __FILES__; // {asked for by the runtime: name in the site}
  const MACHINE = "pyodide.asm.wasm";
  const arriving = {};
  const handed = {};
  const request = self.fetch.bind(self);
  // Machine code is read as it arrives only where the server names its kind; not every host of plain files knows it.
  const named = (response) => (/^application\/wasm/.test(response.headers.get("Content-Type")) ? response : new Response(response.body, { headers: { "Content-Type": "application/wasm" } }));
  const folder = self.handbookFolder ?? (location.protocol.startsWith("http") ? location.href : null);
  for (const name of Object.keys(names)) {
    arriving[name] = folder ? request(new URL(names[name], folder)) : new Promise((resolve) => { handed[name] = resolve; });
    arriving[name].catch(() => {}); // told when it is asked for
  }
  const machine = arriving[MACHINE].then((response) => WebAssembly.compileStreaming(named(response)));
  self.fetch = async (address) => {
    const name = String(address.url ?? address).split("/").pop();
    if (!arriving[name]) throw new TypeError("the calculators ask for nothing outside this handbook");
    return name === MACHINE ? new Response() : arriving[name]; // the machine code is being read already
  };
  WebAssembly.instantiateStreaming = async (_, imports) => {
    const module = await machine;
    try {
      return { module, instance: await WebAssembly.instantiate(module, imports) };
    } catch (error) { // most likely there is no memory for it
      unreadable(error);
      throw error;
    }
  };
  // Where its machine code cannot be read or started, the runtime only warns, and waits for ever.
  let unreadable;
  self.handbookUnreadable = new Promise((_, reject) => { unreadable = reject; });
  machine.catch(unreadable);
  self.handbookUnreadable.catch(() => {}); // told with Python's own start
  self.addEventListener("message", ({ data }) => {
    for (const [name, bytes] of Object.entries(data.files ?? {})) handed[name]?.(new Response(bytes, { headers: { "Content-Type": name === MACHINE ? "application/wasm" : "application/octet-stream" } }));
  });
}
