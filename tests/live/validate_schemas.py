"""Validates plans and reports against the JSON Schemas that the command prints, with the jsonschema library.

usage: validate_schemas.py LOOMWRIGHT PLAN...   (PLANs are TOML; exit 1 and a line per violation)
"""
import json, subprocess, sys, tomllib
from jsonschema import Draft202012Validator

command, plans = sys.argv[1], sys.argv[2:]
schema = lambda what: json.loads(subprocess.run([command, "schema", what], capture_output=True, check=True).stdout)
plan_schema, report_schema = schema("plan"), schema("check")
Draft202012Validator.check_schema(plan_schema)
Draft202012Validator.check_schema(report_schema)
violations = 0
for path in plans:
    with open(path, "rb") as file:
        found = list(Draft202012Validator(plan_schema).iter_errors(tomllib.load(file)))
    report = subprocess.run([command, "check", path, "--format", "json"], capture_output=True).stdout
    found += list(Draft202012Validator(report_schema).iter_errors(json.loads(report)))
    for error in found:
        violations += 1
        print(f"{path}: {'/'.join(map(str, error.absolute_path))}: {error.message[:200]}")
print(f"{len(plans)} plans, {violations} violations")
sys.exit(1 if violations else 0)
