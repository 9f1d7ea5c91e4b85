//! The books that travel with the program, and the examples.
use undercroft::base::text::Sources;
use undercroft::base::problem::Problem;

fn said(sources: &Sources, problems: &[Problem]) -> Vec<String> {
    problems.iter().map(|p| {
        let src = sources.get(p.at.source).unwrap();
        let at = src.line_column(p.at.start);
        format!("{}:{}: {} found `{}`; accepts {}; nearest {:?}", src.name(), at.line, p.kind.name(), p.found, p.accepts, p.nearest)
    }).collect()
}

#[test]
fn bases_read() {
    for name in ["ranch", "colonial", "passive"] {
        let text = std::fs::read_to_string(format!("rules/epa-1994/cases/{name}.yaml")).unwrap();
        let mut sources = Sources::new();
        let id = sources.add(name, text);
        let source = sources.get(id).unwrap();
        let (tree, problems) = undercroft::yaml::scan::read(id, source.text());
        println!("{:#?}", said(&sources, &problems));
        let (_, problems) = undercroft::design::read::read(source, &tree);
        println!("{:#?}", said(&sources, &problems));
    }
}
