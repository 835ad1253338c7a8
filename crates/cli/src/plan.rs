//! `trueground plan`: the stance that changes would make, and the parts that would reach a target.

mod answer;
mod asked;
mod words;

use crate::Answer;
use crate::car_file::{read, sentence};
use crate::output::{Problem, json};
use crate::target_choice::FileAndTarget;
use answer::{Reply, Row};
use clap::Args;
use clap::builder::PossibleValuesParser;
use trueground_core::capture::CarFile;
use trueground_core::checks::{LoadCase, Rule};
use trueground_core::level::{Options, Solution, solve};
use trueground_core::plan::search::{Asked, Keep, search};
use trueground_core::plan::{Change, Taught, after, changes, parts, plan, taught};
use trueground_core::target::Target;
use trueground_core::wording::{nearest, shown};

/// Which stance changes of the car would make, where the drop comes from and what follows; with --search, which parts reach a target
///
/// FILE is a car's exchange file with "changes": [{"id", "label", "steps": [{"kind", "end", …}]}], each an alternative; --change joins
/// some of them into one plan, in that order. Each step has "amount_mm" at that end (+ lifts) or the fields of its kind: block
/// {"thickness_mm"}, leaf_out {"leaves", "pack"}, shackle {"sketch": "hanging", "length_change_mm"}, tire {"marking"} …; --kinds lists them.
/// With --search, "parts": [{"id", "slot", "steps", "price", "hours"}], one part a slot. A plan is predicted, and nothing is kept of it.
#[derive(Debug, Args)]
pub(crate) struct Arguments {
    #[command(flatten)]
    input: FileAndTarget,
    /// The snapshot to set out from; the last one unless named
    #[arg(long, value_name = "ID")]
    snapshot: Option<String>,
    /// Do this change; given again, the next one after it
    #[arg(long, value_name = "ID", conflicts_with = "search")]
    change: Vec<String>,
    /// Hold this snapshot, taken after the work, against what was predicted
    #[arg(long, value_name = "ID", conflicts_with = "search")]
    measured: Option<String>,
    /// What is aboard
    #[arg(long, value_name = "NAME", default_value = "nominal", value_parser = PossibleValuesParser::new(LoadCase::ALL.map(|(name, _)| name)))]
    load: String,
    /// Hold against this rule; may be given again
    #[arg(long, value_name = "NAME", value_parser = PossibleValuesParser::new(Rule::ALL.map(|(name, _)| name)))]
    rule: Vec<String>,
    /// Every kind of change with its fields; no file is needed
    #[arg(long)]
    kinds: bool,
    /// Search the parts for the combinations that come nearest to the target
    #[arg(long)]
    search: bool,
    #[command(flatten)]
    keep: asked::Kept,
}

impl Arguments {
    pub(crate) fn check(&self) -> Result<(), clap::Error> {
        if self.kinds { Ok(()) } else { self.input.check("plan") }
    }
}

fn told(problem: &trueground_core::level::Problem, name: &str) -> Problem {
    Problem::new(sentence(problem.message()), sentence(problem.hint())).at(name)
}

pub(crate) fn run(arguments: &Arguments) -> Answer {
    if arguments.kinds {
        return if arguments.input.json { json(&answer::kinds()) } else { Ok(words::kinds()) };
    }
    let input = arguments.input.input()?;
    let (file, name) = (read(&input)?, input.name());
    let solution = solve(&file, &Options::default()).map_err(|problem| told(&problem, &name))?;
    let last = file.snapshots.iter().rfind(|snapshot| snapshot.on_wheels()).map(|snapshot| snapshot.id.as_str());
    let Some(from) = arguments.snapshot.as_deref().or(last) else {
        let hint = "Take one: walk round the car with the tape.";
        return Err(Problem::new("The file has no snapshot to set out from.", hint).at(&name));
    };
    let work = Work { arguments, file: &file, solution: &solution, from, name: &name };
    let reply = if arguments.search { work.search()? } else { work.plan()? };
    if arguments.input.json { json(&reply) } else { Ok(words::words(&reply)) }
}

struct Work<'a> {
    arguments: &'a Arguments,
    file: &'a CarFile,
    solution: &'a Solution,
    from: &'a str,
    name: &'a str,
}

impl Work<'_> {
    fn target(&self) -> Result<Option<Target>, Problem> {
        let input = &self.arguments.input;
        if !input.is_asked() && !self.arguments.search {
            return Ok(None);
        }
        Target::named(self.file, input.name()).map(Some).map_err(|problem| told(&problem, self.name))
    }

    /// What the checks are asked.
    fn checked(&self) -> answer::Checked<'_> {
        let case = LoadCase::ALL.iter().find(|(name, _)| *name == self.arguments.load);
        let rules = Rule::ALL.iter().filter(|(name, _)| self.arguments.rule.iter().any(|asked| asked == name));
        answer::Checked {
            file: self.file,
            solution: self.solution,
            load: case.map_or(LoadCase::Nominal, |(_, load)| *load),
            rules: rules.map(|(_, rule)| *rule).collect(),
        }
    }

    fn plan(&self) -> Result<Reply, Problem> {
        let all = changes(self.file).map_err(|refusal| Problem::from(refusal).at(self.name))?;
        if all.is_empty() {
            let hint = "Add \"changes\": [{\"id\": \"lower\", \"steps\": [{\"kind\": \"block\", \"end\": \"rear\", \"thickness_mm\": 25}]}].";
            return Err(Problem::new("The file has no changes to plan with.", hint).at(self.name));
        }
        let alternatives: Vec<Vec<&Change>> = if self.arguments.change.is_empty() {
            all.iter().map(|change| vec![change]).collect()
        } else {
            vec![self.arguments.change.iter().map(|id| self.named(&all, id)).collect::<Result<_, _>>()?]
        };
        let (target, checked) = (self.target()?, self.checked());
        // Held against what was measured, a plan is what its sums say.
        let taught =
            if self.arguments.measured.is_some() { Taught::default() } else { taught(self.file, self.solution).0 };
        let (mut planned, mut measured) = (Vec::new(), None);
        for changes in &alternatives {
            let one = plan(self.file, self.solution, self.from, changes, &taught);
            let one = one.map_err(|problem| told(&problem, self.name))?;
            if let Some(snapshot) = &self.arguments.measured {
                if alternatives.len() > 1 {
                    let hint = "Name what was done with --change, once for each.";
                    return Err(Problem::new(
                        "--measured is held against one plan; the file has several changes.",
                        hint,
                    ));
                }
                let after =
                    after(self.file, self.solution, &one, snapshot).map_err(|problem| told(&problem, self.name))?;
                measured = Some(answer::Measured::new(snapshot, after));
            }
            planned.push(Row::of(&checked, &one, target.as_ref()).map_err(|problem| told(&problem, self.name))?);
        }
        Ok(Reply { basis: "predicted", from: self.from.to_owned(), planned, measured, search: None })
    }

    fn named<'c>(&self, all: &'c [Change], id: &str) -> Result<&'c Change, Problem> {
        all.iter().find(|change| change.id == id).ok_or_else(|| {
            let known: Vec<&str> = all.iter().map(|change| change.id.as_str()).collect();
            let hint = match nearest(id, &known) {
                Some(near) => format!("Did you mean {}?", shown(near)),
                None => format!("Name one of them: {}.", trueground_core::wording::listed(&known)),
            };
            Problem::new(format!("There is no change {}.", shown(id)), hint).at(self.name)
        })
    }

    fn search(&self) -> Result<Reply, Problem> {
        let parts = parts(self.file).map_err(|refusal| Problem::from(refusal).at(self.name))?;
        let keep: Keep = self.arguments.keep.keep()?;
        let Some(target) = self.target()? else {
            return Err(Problem::new("No target is named.", "Name one with --target.").at(self.name));
        };
        let asked = Asked {
            from: self.from,
            target: &target,
            parts: &parts,
            keep: &keep,
            wanted: self.arguments.keep.answers(),
            taught: taught(self.file, self.solution).0,
        };
        let found =
            search(self.file, self.solution, &asked, &mut |_| true).map_err(|problem| told(&problem, self.name))?;
        let search = answer::Search::of(&self.checked(), &found, &parts, &target);
        let search = search.map_err(|problem| told(&problem, self.name))?;
        Ok(Reply {
            basis: "predicted",
            from: self.from.to_owned(),
            planned: Vec::new(),
            measured: None,
            search: Some(search),
        })
    }
}
