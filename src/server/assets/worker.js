// Nothing is kept yet.
self.addEventListener("fetch", () => {});
