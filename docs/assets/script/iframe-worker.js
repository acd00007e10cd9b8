// Search on a page opened from disk. Browsers refuse a worker there, so the search code runs in a hidden frame instead.
// Only the search worker is replaced: every other worker stays a real one. Nothing is written as markup, so that the
// page's content-security policy needs no exception for it.
if (location.protocol === "file:") {
  const RealWorker = window.Worker;

  class FrameWorker extends EventTarget {
    constructor(address) {
      super();
      this.frame = document.createElement("iframe");
      this.frame.hidden = true;
      this.frame.title = "search";
      document.body.appendChild(this.frame);
      const inside = this.frame.contentWindow;
      const run = (src) => new Promise((resolve, reject) => {
        const script = inside.document.createElement("script");
        script.src = src;
        script.onload = resolve;
        script.onerror = () => reject(new Error(`${src} could not be read`));
        inside.document.body.appendChild(script);
      });
      inside.postMessage = (data) => this.answer(structuredClone(data));
      inside.importScripts = (...sources) => sources.reduce((before, src) => before.then(() => run(src)), Promise.resolve());
      this.ready = run(address);
    }

    answer(data) {
      const event = new MessageEvent("message", { data });
      this.dispatchEvent(event);
      this.onmessage?.(event);
    }

    postMessage(data) {
      this.ready.then(() => this.frame.contentWindow.dispatchEvent(new MessageEvent("message", { data: structuredClone(data) })));
    }

    terminate() {
      this.frame.remove();
    }
  }

  window.Worker = new Proxy(RealWorker, {
    construct: (target, [address, options]) => /\/workers\/search\.[^/]*$/.test(String(address))
      ? new FrameWorker(String(address)) : new target(address, options),
  });
}
