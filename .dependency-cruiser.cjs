/** @type {import('dependency-cruiser').IConfiguration} */
module.exports = {
  forbidden: [
    {
      name: "no-circles",
      comment: "Two modules that need each other are one module, or are missing a third.",
      severity: "error",
      from: {},
      to: { circular: true },
    },
    {
      name: "core-knows-only-core",
      comment:
        "core decides; it does not fetch, store, log, or ask the time. What it needs is passed in, so a verdict can be " +
        "repeated years later from the same inputs. Only pure libraries are let through, by name.",
      severity: "error",
      from: { path: "^core/" },
      to: { pathNot: ["^core/", "node_modules/(zod|ml-levenberg-marquardt|canonicalize)/"] },
    },
    {
      name: "quantity-stands-alone",
      comment: "Numbers and units come first. Everything else may use them; they use nothing.",
      severity: "error",
      from: { path: "^core/quantity/" },
      to: { pathNot: "^core/quantity/" },
    },
    {
      name: "readers-know-no-limits",
      comment: "What a paper says must not be read in the light of what it ought to say.",
      severity: "error",
      from: { path: "^core/(certificate|recogniser|reduction)/" },
      to: { path: "^core/(grades|requirement|verdict|report)/" },
    },
    {
      name: "judge-knows-no-files",
      comment: "The judge sees readings. Cells and file formats end at the recogniser.",
      severity: "error",
      from: { path: "^core/(verdict|requirement|grades)/" },
      to: { path: "^core/(recogniser|report)/" },
    },
    {
      name: "worker-does-not-know-api",
      comment: "The worker runs without the HTTP front.",
      severity: "error",
      from: { path: "^worker/" },
      to: { path: "^api/" },
    },
    {
      name: "api-enters-worker-by-its-doors",
      comment:
        "The HTTP front unpacks archives, puts jobs on the queue, reads what is stored and traces both; it never reads a document or judges. " +
        "api/main.ts may start a worker beside itself, which is the embedded profile; settings-main.ts only prints settings.",
      severity: "error",
      from: { path: "^api/", pathNot: "^api/(main|settings-main)[.]ts$" },
      to: { path: "^worker/", pathNot: "^worker/(archives|queue|store|tracing)/" },
    },
    {
      name: "nothing-ships-from-tests",
      comment: "A helper that both need belongs in api, worker or core.",
      severity: "error",
      from: { path: "^(api|worker|core)/" },
      to: { path: "^(tests|samples)/" },
    },
    {
      name: "only-declared-dependencies",
      comment: "A production install must be enough to run the service.",
      severity: "error",
      from: { path: "^(api|worker|core)/" },
      to: { dependencyTypes: ["npm-dev", "npm-no-pkg", "npm-unknown"], dependencyTypesNot: ["type-only"] },
    },
  ],
  options: {
    doNotFollow: { path: "node_modules" },
    exclude: { path: "^dist/" },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: "tsconfig.json" },
    enhancedResolveOptions: { exportsFields: ["exports"], conditionNames: ["import", "types"] },
  },
};
