// Chooses light or dark before anything is painted. A plain script: a module would run after the first paint.
{
  let kept = "auto";
  try {
    kept = localStorage.getItem("steelyard-shade") ?? "auto";
  } catch {
    // Without storage the system's choice holds.
  }
  const dark = kept === "dark" || (kept !== "light" && matchMedia("(prefers-color-scheme: dark)").matches);
  document.documentElement.dataset.shade = dark ? "dark" : "light";
}
