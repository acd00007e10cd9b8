// Stands first in the worker: starts the two downloads while the runtime script below is still being read, and is the only
// way in which anything here can fetch. Over http the files come from the folder of the runtime; from disk the page hands them over.
{
  const names = __FILES__; // {asked for by the runtime: name in the site}
  const known = {};
  const handed = {};
  const request = self.fetch.bind(self);
  // Machine code is read as it arrives only where the server names its kind; not every host of plain files knows it.
  const named = (response) => (/^application\/wasm/.test(response.headers.get("Content-Type")) ? response : new Response(response.body, { headers: { "Content-Type": "application/wasm" } }));
  const folder = self.handbookFolder ?? (location.protocol.startsWith("http") ? location.href : null);
  for (const name of Object.keys(names)) {
    known[name] = folder
      ? request(new URL(names[name], folder)).then(name.endsWith(".wasm") ? named : undefined)
      : new Promise((resolve) => { handed[name] = resolve; });
    known[name].catch(() => {}); // told when it is asked for
  }
  self.fetch = async (address) => {
    const name = String(address.url ?? address).split("/").pop();
    if (!known[name]) throw new TypeError("the calculators ask for nothing outside this handbook");
    return known[name];
  };
  // Where its machine code cannot be read, the runtime only warns, and waits for ever.
  const read = WebAssembly.instantiateStreaming;
  self.handbookUnreadable = new Promise((_, reject) => {
    WebAssembly.instantiateStreaming = (...given) => read(...given).catch((error) => {
      reject(error);
      throw error;
    });
  });
  self.handbookUnreadable.catch(() => {}); // told with Python's own start
  self.addEventListener("message", ({ data }) => {
    for (const [name, bytes] of Object.entries(data.files ?? {})) {
      const type = name.endsWith(".wasm") ? "application/wasm" : "application/octet-stream";
      handed[name]?.(new Response(bytes, { headers: { "Content-Type": type } }));
    }
  });
}
