<?xml version="1.0" encoding="utf-8"?>
<!DOCTYPE TS>
<TS version="2.1" sourcelanguage="en">
  <context>
    <name>desk</name>
    <message>
      <location filename="../../sitepick/desk/journey_strip.py" />
      <source> (pinned)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source> Caution: {caution}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source> It would score {score:.0f} of 100.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source> The plan has changed: a new answer is being worked out.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_camp.py" />
      <source> The two nearest shelters stand {min_distance_m:.1f} m apart.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source> {shelters} empty.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_camp.py" />
      <source> {shelters} no place.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>%</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;About sitepick</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>&amp;Ask here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Bring back unsaved work</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>&amp;Camp</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/crash.py" />
      <source>&amp;Copy the report</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Dark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Edit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Field book</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;File</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;First steps, a worked example</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Help</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Light</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Look through</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Manual for this place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Map</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Miles, feet, pounds and °F</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>&amp;Move</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Night, dim red</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Nothing: the ground itself</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Open plan …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Preview and print …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Quit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>&amp;Route</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Routes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Save</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>&amp;Save over it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Shortcuts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/answer_line.py" />
      <source>&amp;Stop</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Take a route from a file …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Take over a kit list …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;Tour of the desk</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>&amp;View</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>+ and −</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>, and the heaviest sled weighs {sled_kg:.0f} kg with {sled_team_count} people at it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/security.py" />
      <source>0: as many as still add ground that is seen, 2 to 6.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>0: none.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>1 for rested people; a journey reckons it for each of its days.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/observer.py" />
      <source>1.7 m standing; more for a tower, a vehicle's hatch or a cabin's upper floor.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>300 for a printer; 100 for a screen.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>60 yd keeps one burst from harming two tents; 10-15 m where dispersal doesn't matter.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>75 for drilled crews in tents, 120 with digging or log work; leave empty to follow the rule.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>; first in {number:.0f} of 100 draws</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>A boot sinks in {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>A few answers in pairs set the weights.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>A hard frost or wet clothes: trees overhead, little wind and no cold hollow save more fuel than anything a stove gives, and dead wood near feeds it. What lies nearer the route counts less.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>A landing takes a clearing {0} wide.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>A latrine keeps {0} from water, {1} from a common cooking place and {2} from shelters; nobody walks more than {3} to one. One seat serves {4} people.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>A latrine takes {0}, water {1}, a cubic metre of wood or boughs {2}, a trail past the site {3}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>A lead party goes without sleds; the order says when it leaves.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>A lead party leaves {0} before it must.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>A longer halt to eat takes {0} and begins at {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>A map without answers, an answer sheet, copies of the plan, a table.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>A paragraph a line.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/load_fields.py" />
      <source>A person weighs {0} and carries {1}; a day's ration holds {2}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>A pick counts for the nearest good ground within {0}; doors may be {1} off.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>A pick counts for the nearest ground within limits so far away.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>A place one degree leveller is worth a walk longer by {0} to the middle of the camp, one without any of the open wind {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>A point becomes a line, a line an area.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>A ready set of weights.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>A round site of your own with room for the unit, measured like any other.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>A site of your own, measured like any other.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>A stop that the march must hold room for, such as a ford or a crossing in turns.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>A surface model follows the tree tops, a terrain model the ground.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>A turn on a post takes {0}, nobody stands more than {1} a night; the unit rises at {2}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>A way of {distance}, about {time} on the move off any trail. It weighs time alone: read the March page's cautions on ice, streams and avalanche ground, then drag it where you want it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>A {0} at {1} {2} {3}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>A3 gets larger maps.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>About sitepick</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>Across the ground it stands on.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Add</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Add a corner to {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Add a day's forecast</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Add a delay</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Add a delay at a place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Add a delay at a time</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>Add a kind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Add a place to the journey</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Add a point here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Add a point to a mark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Add a point to the curve of {factor}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Add a point to {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Add a shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/rose_rows.py" />
      <source>Add a wind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Add below</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Add point {index}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Add the point clicked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Add where the map was clicked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>Add {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Add {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Adds a mark at these places.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Against that by day: 0.65 across country, 0.8 on roads and broken trails (FM 21-18: 1.6 of 2.5, 3.2 of 4.0 km/h).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Against that without: 0.6 to 0.8, common practice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>Against the other weights; only ratios count.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>Against {label}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>All files (*)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>All ground in reach is known.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>Allow {pitching:g} min for pitching</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/delay.py" />
      <source>Along the route from its start.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>Alternate: site {rank}. {alternate_words}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>An early start and far to go: stop late in the day, right by the way and soon on it again; what the place itself offers comes second.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>An open fire or a common cooking place; sparks carry farther in wind.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Another name for {name}:</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_unit.py" />
      <source>Another number of people gets the usual tents again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Answers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Answers (*.csv *.tsv *.gpx *.geojson);;All files (*)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Answers that came in</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/comparing.py" />
      <source>Arrive</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Arrows</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_canvas.py" />
      <source>Arrows move the map, plus and minus zoom, Home shows all, Enter asks about the middle. M, R, K, C and A choose what the pointer does; with R, Page Down takes a point of the route in hand, N names it and the menu key shows what can be done. With K, Enter sets a corner or an observer in the middle, End closes the area, Page Down takes a corner in hand. With C, Page Down takes a thing of the camp in hand, arrows move it, Enter puts it there. Sites and camp are told in full on their pages.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Arrows, Delete, N</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>As a GeoJSON file, for other plans.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>As cloud-optimised GeoTIFF and PNG, in a folder of their own. Takes a while.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>As in the list of answers.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>As on the list of trainees.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>As told in the words of the journey.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>As told on the map's list.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>As trainees read it; the plan's own name never reaches them.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>Ask who comes to fetch you what they need.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Asks for the files that came in, then for a folder for the debriefs.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Assess answers…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>At most {0} days, each of {1}, nights chosen for {2}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Avalanche bulletin: {0}; fresh snow {1} in one day and {2} in three.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>Avalanche ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Avalanche ground, line up to the release</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Back to the usual curve</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Before leaving</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Beside the trail, as measured; empty: reckoned from the snow's depth and density.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Besides a pick they hand in {0}, {1}, {2} and {3}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Besides the time that it needs for breaking; ours.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Beyond it a sled is roped or carried: common practice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Bog, marsh and flood ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Boughs may be cut</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_keeper.py" />
      <source>Bring back unsaved work</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>By {camp_by} the unit is {reach_along_route_m} along the route of {route_length_m}; {late_reach_m} if slow, {early_reach_m} if fast.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Cadets finding their own way in summer woods, slopes of -30 to 30 %.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Cadets on paths in summer, slopes of -30 to 30 %.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/field_book.py" />
      <source>Camp</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>Camp lists every shelter. File, Write handout makes the sheet and the order. F1 opens the manual.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Casualties</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/answer_line.py" />
      <source>Cautions</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Change a day's forecast</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Change a delay</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Change a mark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Change a place of the journey</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Change departure</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>Change how slopes count</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_unit.py" />
      <source>Change people</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Change people in {told}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Change the answer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Change the clocks' zone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Change the curve of {factor}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Change the exercise's title</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Change the hour of camp-by</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Change the hour of rising</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Change the hour of the long halt</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Change the kind of {told}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Change the kit list: {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>Change the limit of {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Change the list of trainees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Change the rest days</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Change the section of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Change the task</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>Change the way to the score</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/rose_rows.py" />
      <source>Change the winds</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>Change the {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>Change what {factor} counts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Change {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Change {name}'s points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Chapter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Chapters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Checked before leaving base.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>Choose Ask here and click any place to hear what speaks for and against it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_strip.py" />
      <source>Choose a day for the day line; the left and right keys go from day to day.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>Choose something here or on the map to hear why it lies there, or to put it elsewhere.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_fields.py" />
      <source>Choose what holds.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Clear ice, measured on lakes and rivers: {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Click a place to hear what speaks for and against it (A)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Click adds a point, a drag moves it, Delete removes it, a right click shows more, Esc ends (R)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Click the corners of an area, a double click ends; drag moves, Delete removes, a right click shows more (K)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Click the map first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Click the map first; more points come later.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Click the map with Ask here first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/answer_line.py" />
      <source>Close</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>Clothing included; leave empty for what the kit list comes to.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Cold hollows</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Command and signals</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>Common practice: 200 lb a section.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Common practice: half the speed without a sled.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Common practice: more than 8 %.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Common practice; local rules come first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Compare</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Cooking</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Copy</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Copy a mark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>Cover</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/dropped.py" />
      <source>Cover comes from {names} with the legend {legend}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>Curves from measure to score: all are the usual ones</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>Curves from measure to score: {own} of {count} are your own</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Date and time, in the plan's own time zone.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_line.py" />
      <source>Day line</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Day {0}: wind from {1} at {2}, air at {3}, snow {4} {5}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_desk.py" />
      <source>Day {number} of the journey.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_way.py" />
      <source>Day {number}: {where}, {hour}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Days of rest, places and forecasts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_strip.py" />
      <source>Days of the journey</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Days on which nobody marches, such as 3, 5; the first day is 1.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/notices.py" />
      <source>Details</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Distances of latrine, waste, fire and fuel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>Done</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>Door</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Down to {0}, snow {1} deep, its density {2}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Drag a shelter, a post or a facility to its place; arrows move the chosen one by 1 m, with Shift by 10 m, Enter puts it there, Esc puts it back, Delete lets go of it (C)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_line.py" />
      <source>Drag the departure or camp-by; by keyboard Left and Right, with Shift for camp-by.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Drag the map, choose a site (M)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Drinking water</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>Drop {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Duties of the night</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>Each bulletin level above 2 takes {0} off the slope and {1} off the line.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>Each carries {told_load_kg:.0f} kg{sled}: the kit list on the page Unit says so.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Each gets a copy; who hands in nothing is told.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Each measure becomes a score by a curve of its own.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/kit.py" />
      <source>Each person has one, or each section.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Effort and supplies</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/weighting.py" />
      <source>Either side of the forecast.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>End</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>End the route at point {index}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>End the route here, keep the rest as another</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>End the tour</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Enter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Esc</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Evergreen cover</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Everyone is under shelter by {ready}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>Everyone who sleeps in the camp.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/field_book.py" />
      <source>Exercise</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>Fallen in the last three days.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>Fallen since yesterday.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>Few should know where the unit lies: deep in dense evergreens, in sight of neither tracks nor route nor anyone marked, and room lets shelters stand wide apart. Ground well off the way is no fault.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Field book</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Files and crashes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>Find a quick way</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Find a quick way from the route's end to here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Find a quick way to the next point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>Find {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>Find {name} …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>Finer points of the pace</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Fire</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/comparing.py" />
      <source>First in 100</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>First steps</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Fit hill walkers on paths in summer, without halts; known to be quick for loaded parties.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Fit touring parties with skins and light packs; the fall of a hill is no gain to sleds.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Food is cooked {0}; {1}; for a landing {2}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>Food of one person for the day.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>For each bulletin level above 2.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/kit.py" />
      <source>For each person or each section; 0 leaves it at base.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>From a GeoJSON file.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>From memory, FM 21-18.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>From memory, FM 21-18: 2 km less in a march of six hours at 4 km/h.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>From the departure to the arrival in camp; leave empty to march as long as the light lasts.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_unit.py" />
      <source>From the last arrival to everyone under shelter takes {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Fuel</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>Functions with their sources, rates, dark, snow, load, sled and ice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Give</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Give it a name of your own.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Give {0} {1} for {2} because {3} {4}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Go back to the usual curve of {factor}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>Grid reference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/field_book.py" />
      <source>Ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>Ground farther off isn't read, so that long routes stay quick.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Ground to pitch on</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Half way to the next point; no score changes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Halt site</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>Handout written to {folder}: {files}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Hatch the ground that no post sees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>Height</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Height above the sea</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>Heights come from {elevation}, cover from {cover} with the legend {legend}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/dropped.py" />
      <source>Heights come from {elevation}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Hide</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_wishes.py" />
      <source>Hide {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Home</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Hours of sun on the day of arrival</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>How far the speed may be off, as a share.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/weighting.py" />
      <source>How far what you think counts may be off, a share.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/exercise/words.py" />
      <source>How good the ground is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>How large the pages are shown.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/layout.py" />
      <source>How much longer a walk to the middle of the camp a leveller place is worth.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/layout.py" />
      <source>How much longer a walk to the middle of the camp a place without any wind is worth.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>How much of the forest keeps its needles, where the cover file can't tell.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/weighting.py" />
      <source>How often the ranking is tried.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>How the unit moves.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Ice is checked against it by Gold's rule, with what the rule is known to overrate taken off.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>In camp by {0} at the latest, and {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>In harness at a time; from memory 3 to 4.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>In the camp</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>In the dark the speed is {0} of that by day.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>In the open, at 10 m, as forecast.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Irmischer and Clarke 2018, Cartography and Geographic Information Science 45:177, as remembered: copies of it differ in detail.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Irmischer and Clarke 2018, off paths</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Irmischer and Clarke 2018, on paths</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>It is broken by {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>It is kept with the plan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>It is my alternate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>It takes {supplies}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>Its curve: {source}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Its limit lies past the curve: all ground within it scores alike.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Join {told}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/field_book.py" />
      <source>Journey</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Keep</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Keep it in the list, whatever its rank.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_wishes.py" />
      <source>Keep {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/rose_rows.py" />
      <source>Keeps the most frequent one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Kind of {name}. What it is, and so how many it sleeps.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_files.py" />
      <source>Kit list saved as {path}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/load_fields.py" />
      <source>Kit list, to tick before leaving</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Kit lists (*.csv);;All files (*)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Land cover</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Latitude and longitude</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Latrine</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Layout</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Lead the route straight on to here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>Leave empty for a tent's.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>Leave empty for one a section.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>Leave empty for the mode's rate.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>Leave empty if they are taken for all days.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Leave empty to take the Unit page's. Three or four and one to brake: from memory.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Leave empty to take the kit list's. A hauling sled carries at most 90 kg for a section: common practice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Leave empty to take the kit list's. Over 33 kg is more than people march with and stay fit (from memory, FM 21-18).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>Leave empty to take what the file says.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Leave on {0}, moving {1} {2}. The trail is {3}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Left, Right</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/legend_card.py" />
      <source>Legend: {label}. {marks}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>Let go</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>Let go of all</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_tool.py" />
      <source>Let go of everything in the camp</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_tool.py" />
      <source>Let go of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Let night {day} go</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Let night {number} go</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Lies between the measures of the points beside it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>Limits: {limited} of {count} main measures have one</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/load_fields.py" />
      <source>Loads and supplies</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Lone walkers without a load on bare paths; optimistic for a column and on steep falls.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>Look out for</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>Lowest expected during the night.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>M, R, K, A</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Make a site here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Make {name} the leader's</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Make {name} {words}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Manual</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Map</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>Map saved as {path}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Mapped tracks are {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Mar&amp;k</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/field_book.py" />
      <source>March</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>March along {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Mark {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>Marked by the trainer alone.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Marks (*.geojson *.json);;All files (*)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Marks on the ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Marks saved as {path}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>Measured on the ice itself; empty: not checked.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Menu key</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Military grid reference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Minutes to water and back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>More can count: {told}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Mountain walkers in summer, most on paths; the same up and down.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>Move</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Move a corner of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Move a point of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_grip.py" />
      <source>Move camp-by</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_tool.py" />
      <source>Move point {index}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_grip.py" />
      <source>Move the departure</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Move {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Move, Route, Mark, Ask here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Munter's rule</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Munter's rule: (km + m of height / 100) / rate hours, rates 4 up, 6 level, 10 down; partly confirmed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>My alternate: {alternate}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>My name: {0}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>My pick: {pick}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Naismith 1892: 1 h for 5 km and 1 h for 600 m up; Langmuir: 10 min less for 300 m down between 5 and 12°, 10 min more where steeper.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Naismith and Langmuir</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>Name (empty: as on the map):</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Name a mark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Name a point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Name of point {number}:</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>Name point {index}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>Name the site</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Name this point …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Name {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Name …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Needed where the day has no dusk.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>Next</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Night {day} on {route} is pinned.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Nights along {0}:</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>No answer yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>No boughs are cut</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_camp.py" />
      <source>No camp is laid out yet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>No cell under a shelter's footprint may be steeper.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>No page yet.{old}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_camp.py" />
      <source>No site found, so no camp is laid out.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>No site found. Why, what weighs most first:</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>No sun and no twilight; the march runs in the dark.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>No-go area</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Nobody marches or camps there.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Note what was found: {what}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Nothing on the list yet: add what you take.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>Nothing out of the ordinary: forest and shelter first, then ground to lie on, and the day's way made.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_tool.py" />
      <source>Nothing speaks against it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_desk.py" />
      <source>Nothing was written.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>Oblique to the wind: straight downwind drifts up.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Observer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Of 100. A curve never turns back, so it lies between the scores beside it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>Of one person, without clothing.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>Of one person: from memory, 1.2 kg of food and some 0.4 kg of fuel where snow is melted.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/kit.py" />
      <source>Of one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Of the camp.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>Of the snow to wade and to melt: 50 fresh powder, 200 settled, 400 packed by the wind.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>Of today's avalanche bulletin; leave empty if unread.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/answer_line.py" />
      <source>Old: the plan has changed since this answer.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>On level open ground, without sled, by day; the middle of a planning table, from memory.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>On open ground along the route.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>On the level the unit makes {0}; it halts every {1} for {2} and loses {3} for other reasons.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>On the map; among trees more is heard than seen.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>On the site at {0}, everyone under shelter at {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>On {0} paper, shown {1} and {2}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>One bad thing {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>One for a point, more for a line or the corners of an area.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>One map as a picture</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/order_notes.py" />
      <source>One paragraph a line. They stay in the plan when the answer changes.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>One seat for 25 is usual.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>One standard deviation, between neighbouring cells; leave empty for what is usual.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/rose_rows.py" />
      <source>One wind again</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Only in a &amp;lens round the pointer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Only marks that hold on the day act.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Open &amp;recent</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Open plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Or click the map with Ask here and use the button.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Order</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Ours, no source: time grows by a fifth for each 4 % uphill, nothing is gained downhill.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>Ours: what a day since the last rest takes off the speed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Own site</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_wishes.py" />
      <source>Own site {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_files.py" />
      <source>PDF (*.pdf);;All files (*)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Pack written to {folder}: {files}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Page Down, Page Up</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Page after</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Page before</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_view.py" />
      <source>Page {index} of {count}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Page {index} of {number}.{old}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_view.py" />
      <source>Pages of the sheet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Part {told}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>Past it, ground is out whatever else it offers. A step below the least: any.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>People</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>People who can sleep in one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>People {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Person-minutes of each job; common practice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Pick or alternate.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_files.py" />
      <source>Pictures (*.png);;All files (*)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_pictures.py" />
      <source>Pictures of the routes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Pin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Pin night {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_unit.py" />
      <source>Pitching takes {time}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Planning card for winter hill walking, as printed in a walkers' magazine in 2018: 3 km/h on snow, 1 min more for 10 m up, 20 s less for 10 m down.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Plans (*.geojson);;All files (*)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Points for the ground begin above the poorest {0} of where the unit could camp, and rise to the best.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Preview and print</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Print …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/answer_line.py" />
      <source>Progress</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>Pull against weight: 0.05 to 0.15 on cold dry snow, more below −30 °C and on bare ground.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>Pulled besides what lies on it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Put</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Put where the map was clicked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Put {kind}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_tool.py" />
      <source>Put {name} by hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Put {what}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Puts an empty one at the end of the list, in a section of its own.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Puts it at the end of the list, one a section, 1 kg, on the sled.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>Ranked sites</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>Reached</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>Read on heights every 10 m; coarser heights lower it by themselves.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Redo</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Rees 2004</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Rees 2004, Computers and Geosciences 30:203: 0.75 + 0.09 |S| + 14.6 S² s/m.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Remove</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Remove a corner of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Remove a day's forecast</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Remove a delay</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>Remove a mark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Remove a place of the journey</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Remove a point of the curve of {factor}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Remove a point of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Remove point {index}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>Remove the kind {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Remove this point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Remove {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Remove {told}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Rename {name} …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>Rename {old}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/crash.py" />
      <source>Report</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>Rest days counted.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Rest on days {0}; the clocks go {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/exercise/words.py" />
      <source>Room within the limits</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Route points take to &amp;tracks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Routes side by side</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Sanitation and fire</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Save &amp;as …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Save &amp;kit list as …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>Save as PNG …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Save kit list as</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_files.py" />
      <source>Save map as a picture</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Save marks as</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Save marks…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Save plan as</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_files.py" />
      <source>Save sheet as PDF</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Save sheet as PDF …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Save this plan and hand it in.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Save under another &amp;name …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Saving over it would take that work away.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/comparing.py" />
      <source>Score</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Score of 100.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Score of 100; a range where a measure is not known.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Security</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Seen from tracks, route and observers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>Set the spacing to {fits_m:g} m</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>Set the weights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>Set the weights by what matters more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>Several nights in one place: water, wood and boughs every day, some sun to dry by, level floors, room to move latrines and paths; an hour of marching more or less matters once.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/rose_rows.py" />
      <source>Several winds instead</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>Share of the ground under crowns from which on a forest keeps its snow.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Sheet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>Sheet saved as {path}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>Shelters keep this far from water.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_camp.py" />
      <source>Shelters stand at least {0} apart, their doors {1} off the wind.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Shelters stand close together on the best of the site.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>Shelters stand {0} apart; at most {1} sites are listed.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>Shelters, facilities and posts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Shift+Left, Shift+Right</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Shortcuts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Show a&amp;ll</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Show it side by side with other sites, up to six.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>Show {sites}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/comparing.py" />
      <source>Site</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/comparing.py" />
      <source>Site {rank}, {label}: {measure_text}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>Site {rank}, {name}, {score} of 100. {line}. {measures}. {reason}{cautions}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/comparing.py" />
      <source>Site {rank}, {score_text} of 100, arrive {arrive}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/field_book.py" />
      <source>Sites</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/comparing.py" />
      <source>Sites side by side</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Situation</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Sleds and vehicles</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/load_fields.py" />
      <source>Sleds: {0}, each with at most {1} on it, {2} empty, pulled by {3} people at a time with a drag of {4} of its weight.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>Slope</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Slope over 30 m</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>Slopes count by {0} {1} {2} {3} {4}; the speed on the level is {5}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>Slopes of {0} to {1} and {2} can release, unless crowns cover {3} of them.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>Smaller steep patches are left out.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Snow ice over the clear ice, measured; it counts half: common practice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>Snow stops where the line up to its release is flatter than {0}, or along its path than {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>Snow stops where the line up to its release is flatter; 18 is strict, 20 to 22 usual.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>So much of the ground where the unit could camp is poorer than what earns the first point.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>Somebody the camp should not be seen by: one click.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/crash.py" />
      <source>Something in sitepick went wrong</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Stand {0} after {1} for {2} {3}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Stand {0} at {1} for {2} {3}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Stands in the debrief.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Start the route here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Steeper ground is not entered: common practice.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>Steeper ground sheds its snow as it falls.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Stop</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/answer_line.py" />
      <source>Stop working; the last answer stays.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Stopped.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>Stopped. Change anything to start again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Stopped; nothing was written.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Stores</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Straight between the points beside it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Such as "Europe/Stockholm", where the clocks change on the way.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Such as a ford, a crossing in turns, a wait for others.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>Sun</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Supplies last {0}; nights are looked for up to {1} off the route.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Tab, Shift+Tab</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Take a route from a file</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Take down</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Take down {name}'s {pick}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>Take it out of the list and the ranking.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>Take other ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_files.py" />
      <source>Take over a kit list</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Take over marks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Take over marks…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>Take the route {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Take {name} off the list.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Take {name} off the list; its people move to free places.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Taken down: {picks}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Takes every tick off, for the next departure.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>Takes it out of the plan where no shelter is one.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Takes the delay out of the plan.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/rose_rows.py" />
      <source>Takes this wind out of the rose.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Task</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>That day has the plan's weather again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/exercise/words.py" />
      <source>The alternate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>The arrow keys move it on the map, Enter puts it there (Enter in the list).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>The camp is watched by {0} out to {1} past its edge, which runs {2} outside everything in it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_camp.py" />
      <source>The camp lies on site {site_rank}, {site_name}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>The class is assessed; its debriefs are written.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>The comparison, a sheet and an order for each night, and files for other programs.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>The file has changed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>The first halt comes after {0}. The speed may be off by a share of {1}: early and late reach are drawn at that.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>The head of the column in turns, or a party that leaves before it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>The heights {0}; their error is {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_asking.py" />
      <source>The journey could not be worked out.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_asking.py" />
      <source>The journey could not be written.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_desk.py" />
      <source>The journey lies in {folder}: {names} and more.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_desk.py" />
      <source>The journey lies in {folder}: {names}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>The journey needn't take this place in any more.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>The journey takes this place in.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/exercise/words.py" />
      <source>The layout</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>The lead party leaves at {lead_at} to break {needed_m} of the trail.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>The leader's own stands in the middle of the camp.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>The loaded vehicle weighs {0}; the ice is asked to bear it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>The map: drag moves it, the wheel zooms. Choose Route and drag a cross-tick: a new answer follows.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/weighting.py" />
      <source>The mean lets good things make up for a bad one; the other way, one bad thing spoils a site.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>The night may fall elsewhere again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/order_notes.py" />
      <source>The order</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/rose_edits.py" />
      <source>The other shares give way, so that all make 100 %.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>The page March: when you leave, how you move, the weather. Click an underlined value to change it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>The page Sites: each site's measures beside their limits. Move a weight and the list follows.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>The picture is as large as the map needs, with its grid, norths, scale and signs. A picture of the way at 1:5 000 can be metres wide.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>The place clicked is my pick</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>The place clicked is {0}, its door to {1} {2}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>The place clicked on the map is the {0} of {1} {2}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>The plan has changed since this answer: wait for the new one before handing out.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_desk.py" />
      <source>The plan has changed since: work the journey out again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>The planning rate is {0} on an unbroken trail and {1} on a broken one; ground steeper than {2} is not entered.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>The planning rates beside it, or the speed that the function itself gives on the level.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>The program places everything again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>The program places it again (Delete in the list).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>The ranking is tried with weights off by a share of up to {0}, the wind's direction by {1} and its speed by a share of {2}; pace and slopes by their own errors.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/exercise/words.py" />
      <source>The reasons</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>The route has changed while a way was looked for; ask for it again.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_unit.py" />
      <source>The rule: {0} for tents, {1} for log shelters, {2} for snow trenches, {3} for snow caves, {4} for vehicles; snow deeper than {5} is dug out at {6} for each 10 cm; each ten people more take {7}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>The same along the way downhill: set it flatter where gullies carry snow far.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>The score for {0} is:</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_camp.py" />
      <source>The sheet is printed on {0} paper.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>The sun does not set; camp-by is your own hour.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/exercise/words.py" />
      <source>The timetable</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>The top line is tonight's answer for the sample plan: where, when, how much light is left.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>The unit rises at this hour; duties of the night end then.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>The usual curve ({source}).</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>The usual one: {source}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>The whole manual</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>The {0} at {1} {2} with {3} dots an inch.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>Then say how many it sleeps, how wide it is and what it needs.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>There must be {0} {1} {2} within {3} {4}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>There must be {0} {1} {2} {3}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>They hold from the next assessment on.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_unit.py" />
      <source>They sleep in {shelters}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>Think of the worst and the best of the listed sites. In {label} it is {span}. Against that step, how much would these matter?</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/crash.py" />
      <source>This is a mistake in sitepick, not yours. Your plan is still open: save it under another name, then start again. The report below tells what happened; nothing is sent anywhere.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Tick each once somebody has looked, and note what was found.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Tick once somebody has looked.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Tick {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Tick {what}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>Time of day, in the plan's own time zone.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Time on the move from the start</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Times of the work on arrival</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>Timings</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>To eat and melt water; it takes in the short halts that it meets.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>To look at on arrival</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>To look at on arrival: {done} of {count} done</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>To shed clothing once warm.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Tobler 1993</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Tobler 1993, NCGIA Technical Report 93-1: 6 exp(-3.5 |S + 0.05|) km/h, 0.6 of it off paths.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/order_notes.py" />
      <source>Told at the end of the section, one paragraph a line.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>Tonight is about {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_unit.py" />
      <source>Tonight {0} people sleep out.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>Tonight's route: {name}, by {points}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>Tonight's route: {name}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Tonight: {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Tracked carriers on firm snow; measure your own vehicle.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Tracks and routes (*.gpx *.geojson *.json *.gpkg *.kml *.shp *.fgb);;All files (*)</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Trainees are given {0}, {1}, {2}, {3}, {4} and {5}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>Trees for the {label}. Two to hang it between.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>True bearing that the wind comes from.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>True bearing.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>True on the ground when the picture is printed in its own size.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_menu.py" />
      <source>Turn the route round</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Undo</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/field_book.py" />
      <source>Unit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Unlike any other shelter's; it stands on the sheet.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Unmake {name} the leader's</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Unsaved changes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_keeper.py" />
      <source>Unsaved work of {at:%d %B %H:%M} on {name} is back. Save it to keep it, or undo to see the plan as it was saved.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_keeper.py" />
      <source>Unsaved work was left behind on {names}: File, Bring back unsaved work has it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Untick all</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>Untick {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Untick {what}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>Up and Down choose, Enter takes the chosen one in hand on the map, Delete lets go of it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Up to six routes stand side by side here: tonight's and those kept in the Routes menu.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>Up to {0} on the back cost no speed; each 4.5 kg more costs {1} of it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>Up, Down, Page Up, Page Down</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>Walkers on firm or shallow snow; deeper snow comes on top.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Washing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Waste</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>Waste lies {0} from water, a fire {1} from shelters, fuel {2} from both.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>Water and back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Way out for a casualty: {way_out}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Weather for the night</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>Weather of one day, where it differs from the plan's.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>Weigh for {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>What a click marks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>What answers are worth</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>What becomes of the colours.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>What counts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>What it is called; press Enter to add it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>What makes one place for a shelter better</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>What only the trainer sees reaches no trainee.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>What speaks against this place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>What the journey does at this place.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>What the journey does there.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>What the journey must keep to, and the weather of single days.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>What the mark stands for.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_cards.py" />
      <source>What the pointer does on the map</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>What the trainer alone sees reaches no trainee.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>What to add to the list.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>What to put on the kit list; press Enter to add it.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>What trainees get and hand in</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>What would help: {fix}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>What {name} is joined to. Two that are pitched against each other make one, such as an aid post.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>When all are on the site.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>When everyone is under shelter.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/order_notes.py" />
      <source>Where in the order your lines stand.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Where is {name} now?</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/rose_edits.py" />
      <source>Where it comes from, true.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/kit.py" />
      <source>Where it lies on the sled.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_camp.py" />
      <source>Where the camp stands is yours to find: put its shelters down on the page Exercise.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>Where the cover file can't tell, the evergreen share of forest is {0}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>Which map.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>Which matters more, and how much?</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>Which matters more, and how much? …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>Which matters more?</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Which points change.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>White ice over the clear: {0}; it counts half.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Who does what, from when to when.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Who is awake, from when to when.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>Who sleeps there; a section's shelters are kept together.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>Why there.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>Wind at a shelter, share of the open wind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>Wind at shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>Wind from {0} at {1}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/rose_rows.py" />
      <source>Wind from {0} for {1} of the time at {2} {3}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/rose_rows.py" />
      <source>Winds from several sides, each with its share of the time.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>With 30 kg of sled a head the speed is {0} of that without, and {1} uphill from {2} on; no sled goes steeper than {3}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/kit.py" />
      <source>Without a sled all of it is carried.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>Work on arrival</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Work out the journey</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/answer_line.py" />
      <source>Working out tonight's stop …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Write &amp;handout to folder …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>Write everything to a folder …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>Write handout to folder</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/order_notes.py" />
      <source>Write in the order: {section}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Write the debriefs to folder</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>Write the journey to a folder …</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>Write the pack to folder</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>Write the pack…</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>Your own curve.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/order_notes.py" />
      <source>Your own lines at the end of {0}:</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Zone, easting and northing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Zoom &amp;in</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/menus.py" />
      <source>Zoom &amp;out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>a boot sinks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>a clearing is wanted</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/work_order.py" />
      <source>a cubic metre of wood or boughs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>a fifth slower each 4 % uphill</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>a fire is lit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>a kind of shelter of your own</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>a layout</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>a layout is asked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>a line of {number} points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>a loaded sled weighs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>a long stay</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>a mark for {kind!r} needs more than one place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>a night near</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>a no-go area</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>a party that leaves before it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>a person</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>a point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>a quarter as much</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>a section</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/mark_tool.py" />
      <source>a site of our own</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>a tenth as much</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>a timetable</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>a timetable is asked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/work_order.py" />
      <source>a turn on a post</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>a {kind}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>add a day's forecast</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>add a kind of shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>add a shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>add the place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>add the place where the map was clicked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>add the point clicked to mark {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>add to the kit list</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>all days</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>all its light</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>all round</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>also in the dark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>alternate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>among the first three in {number:.0f}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>an alternate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>an alternate is asked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>an area of {number} points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/legend_card.py" />
      <source>and {more} more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/exercise/assess.py" />
      <source>answers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>any</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>any time</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>anywhere</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>are of unknown kind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_strip.py" />
      <source>arrive {time}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_view.py" />
      <source>as a whole</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>as is usual for them</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>as long as a tent</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_unit.py" />
      <source>as long as the rule says</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>as many posts as help</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>as on the first</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>as the snow's depth and density tell</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_view.py" />
      <source>as wide as the window</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>ask about the middle; with Mark, set a corner or an observer there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>assess answers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>at</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>at least</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/fields.py" />
      <source>at least {low}{unit}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>at most</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/fields.py" />
      <source>at most {high}{unit}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>avalanche release</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>avalanche runout</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/avalanche.py" />
      <source>avalanche slopes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>back to the usual curve of {factor}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>begin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>behind a vehicle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>being worked out in full</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>body weight</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>boughs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>boundary</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>broken</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>by itself</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_view.py" />
      <source>by red light</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>by vehicle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>camp-by five minutes earlier or later</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_strip.py" />
      <source>camp-by {time}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sites/candidates.py" />
      <source>camp-sized pieces of ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>carried</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>casualty point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>chance of keeping the slope's limit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>change a number in small or large steps</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>change the one of the day that is meant</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>check point</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/printing.py" />
      <source>check that it is switched on and has paper, or save the sheet as PDF</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>clear ice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>close the area being drawn</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>cm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>cold air gathering</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>cold hollow</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: 10-30 % of the open wind in closed conifers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: 2-4 % best, 10 % the limit for a whole unit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: closed crowns overhead</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: dense evergreens well above open ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: everyone on one site, at the spacing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: near water is a bonus, snow is the fallback</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: no floor over 10°</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: no ground looks down on the camp</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: on a bench 10-40 m above the floor, never in a hollow</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>common practice: the thick part of a forest is best</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>considerable</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>cooking</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>crowns that hold the snow</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>curve of {factor}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>cutting not allowed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>danger area</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>dark at {time}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_strip.py" />
      <source>dark {time}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>day</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>days</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>days at most</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>dead wood within 150 m</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/delay.py" />
      <source>delay</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>density of the snow</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_strip.py" />
      <source>depart {time}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>departure</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>depth in the forest</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>detour</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/work_order.py" />
      <source>digging a latrine</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>digging at most</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>digging for each 10 cm more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>direct sun</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>distance from water</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>distance to known hazards</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/tonight.py" />
      <source>done</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>door</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>door off the wind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>dots an inch</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>drag of a sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/exercise/handout.py" />
      <source>drawing debriefs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/desk_work.py" />
      <source>drawing the contours</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/desk_work.py" />
      <source>drawing the ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>drawing the map</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/exercise/handout.py" />
      <source>drawing the pack</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>drawing the pages</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/desk_work.py" />
      <source>drawing the reach</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sheet/handout.py" />
      <source>drawing the sheet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/march/propose.py" />
      <source>drawing the way</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/work_order.py" />
      <source>drawing water</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/weighting.py" />
      <source>draws</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/dropped.py" />
      <source>drop an elevation or land-cover raster, a track or a plan</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_signs.py" />
      <source>early</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>empty sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>end</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>end of the march</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>error of the heights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/weighting.py" />
      <source>error of the weights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/weighting.py" />
      <source>error of the wind's direction</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/weighting.py" />
      <source>error of the wind's speed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>evergreen forest</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>evergreen share of forest</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>evergreens within 150 m</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>every day has a forecast of its own</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>everyone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>factor whose curve is shown</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>fall of the ground all round</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>farther, or not looked at</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>finish</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>fire from shelters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>firewood</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>firewood may be gathered</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>first halt after</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>first in {number:.0f} of 100 draws</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>five times as much</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>five-person tent</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>follow the ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>follow the tree tops</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>food and fuel for a day</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>for</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>forest</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/survey.py" />
      <source>forest and doubt</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>forward</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>fresh snow in 24 h</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>fresh snow in 72 h</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>from {0} until {1} {2}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>from {worst} to {best}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>fuel from fire and shelters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>gentlest slope that releases</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>give the references of its corners, apart by semicolons</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>give these points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>grid reference</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>grid reference of a new place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>grid references; apart by semicolons</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ground in view from the edge</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>ground that earns nothing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sites/find.py" />
      <source>ground within the limits</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>h</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>half as much</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>half as much again</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>halt every</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>hang on behind, on skis</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>hatch the ground that no post sees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>head start of the lead party</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/water.py" />
      <source>height above the water</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/observer.py" />
      <source>height of the eyes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/horizon.py" />
      <source>height of the horizon</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/cold.py" />
      <source>heights against their surroundings</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>high</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/sight.py" />
      <source>highest ground before the eyes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/drainage.py" />
      <source>hollows of the ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>hour of camp-by</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>hour of rising</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>hour of the long halt</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>hours a day</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/sunshine.py" />
      <source>hours of direct sun</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sites/find.py" />
      <source>how firm the ranking is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/journey/places.py" />
      <source>how good the ground is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>how much {label} matters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>how near counts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_view.py" />
      <source>in colour</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>in each shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_view.py" />
      <source>in grey</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_view.py" />
      <source>in its true size</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>in one place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>is made up for by good ones</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>joined to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>joined to {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>just as much</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>kcal</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>keys</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>kg</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>kg/m³</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>kind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>kind of a new shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pins.py" />
      <source>kind of a thing put by hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>kind of elevation model</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>kind of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/delay.py" />
      <source>km</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>km/h</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>landing or pick-up</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_signs.py" />
      <source>late</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>latrine from a common cooking place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>latrine from shelters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>latrine from water</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>laying out the map</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>laying out the sheet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_strip.py" />
      <source>lead party {time}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>leader's</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>lean-to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>leave five minutes earlier or later</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>length of a halt</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>let go</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>let go of all</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>let night {day} on {route} go</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>level of the bulletin</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>level speed from</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>level {level}, {word}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_signs.py" />
      <source>likely</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>limit of a sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>limit of {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>load on each back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>load on the back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>load that costs no speed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/desk_work.py" />
      <source>loading the tools</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>long halt</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>longest walk to a latrine</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>looked for off the route</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/desk_work.py" />
      <source>looking at the files</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/desk_work.py" />
      <source>looking at the place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>looking through {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>low</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>low and aft</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>m</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>map</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>map of the camp</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>map of the way</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>mapped tracks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>meaning</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>meaning of a new mark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>meaning of mark {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>meaning of the area</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>measure at {point}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/delay.py" />
      <source>min</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>mode</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>moderate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_line.py" />
      <source>moon, {moon_lit_frac:.0f} % lit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>more for each ten people</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>move by hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>move the map</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>move, remove or name what is in hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>m²</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>name of a new kind of shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>name of a new thing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>name of the place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>name of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>needs two trees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>next and previous value</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>nights chosen by</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>no alternate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>no clearing is looked for</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>no firewood is gathered</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>no hour of departure</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>no hour: it is left out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>no layout</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>no map</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>no open fire is lit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>no reasons</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_way.py" />
      <source>no site</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>no timetable</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>no unit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>no weather</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>no weights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>no-go area</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>none</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>none of it does now</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>not at all</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>not before camp-by</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>not checked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>not chosen</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>not known</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>not known whether safe</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>not packed, as slow as an unbroken trail</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/look_through.py" />
      <source>not reached by camp-by</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>not read</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>not told</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>note</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/dropped.py" />
      <source>nothing here serves as ground, route or plan. {reasons}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>nothing the maps know of</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/kit.py" />
      <source>number</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>number of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>observer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>of 100:</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>on foot</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>on skis</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>on snowshoes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>on the back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>on the sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/load_fields.py" />
      <source>one a section</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>one for the leaders</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>only the route's ends</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>open fire</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>open to the air</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/open_water.py" />
      <source>open water</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>open water or ice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/ground/reading.py" />
      <source>opening the ground's files</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>other mark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours, as the way off the route</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours, beside the limits that keep camps off them anyway</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours, on the scale of the cover's legend</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours: a few looks find a camp</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours: a minute off the route costs two, in and out</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours: a stop before half the day's march is no stop for the night</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours: an hour or two dries clothes and charges cells</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours: from 10° a loaded sled is hauled by more than its team</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours: half evergreens leave boughs to choose from</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours: nine in ten is good enough</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours: posts see most of what comes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>ours: who is marked is there to look</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>out of bounds</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>out of sight</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>over {water_limit_min:.0f} min</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>pace error</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>packed, as quick as a broken trail</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/handout.py" />
      <source>paper</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>part of the answer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>past a limit in {number:.0f}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>people</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>people at each sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>people by vehicle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>people in a shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>people in {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>people to a latrine seat</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>people who pitch a shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/security.py" />
      <source>perimeter clear of the camp</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/work_order.py" />
      <source>person-minutes</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>pick</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>pitching time</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/delay.py" />
      <source>place of the delay</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>places</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/camp/lay_out.py" />
      <source>places for the shelters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>places of a new mark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>point {number} of the curve of {factor}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>points</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/camp/security.py" />
      <source>posts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/printing.py" />
      <source>printing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>progress</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>pullers of a sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>put it there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>put the mark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>put the mark where the map was clicked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>ration</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/ground/align.py" />
      <source>reading cover</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/desk_work.py" />
      <source>reading the route's file</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>reason</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>reason of the delay</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>reasons are asked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>remove the forecast of day {day}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>remove the kind {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>remove this delay</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>remove {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_strip.py" />
      <source>rest day</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>rest days</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>ride</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/wind.py" />
      <source>ridges and hollows</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>room</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sites/packing.py" />
      <source>room for shelters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sites/room.py" />
      <source>room for the unit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>room for {shelters}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>room to spare</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>room within the limits</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/cold.py" />
      <source>roughness of the ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>route</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>runout angle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>runout angle along the path</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>safety vehicle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>save marks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/side_copy.py" />
      <source>save the plan often</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/map_choice.py" />
      <source>scale</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>score at {point}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/order_notes.py" />
      <source>section</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>section of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>seen</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>seen by marked observers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>seen from the route</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>seen from tracks and roads</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/work_order.py" />
      <source>sentry hours each</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/printing.py" />
      <source>set the printer to that paper, or lay the sheet out for the paper that it has</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>shape</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>share</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>share of the day's way</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/rose_edits.py" />
      <source>share of the time</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/upwind.py" />
      <source>shelter by the ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/stand.py" />
      <source>shelter by trees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>shelters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>show the whole route and all sites</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/sight.py" />
      <source>sight from tracks, route and observers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>sitepick {version} picks tonight's bivouac site and lays out its camp.

It reads maps; it can't see the ground. Local rules, the land owner's permission and trained judgement on the ground come first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sites/find.py" />
      <source>sites by rank</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>sites listed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>size</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/load.py" />
      <source>sleds</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>sleeps {0} on {1}, takes {2} to put up, needs {3} of snow and {4}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>slope</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/slope.py" />
      <source>slope around a shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/slope.py" />
      <source>slope of the ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>slope taken off the release a level</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>slope taken off the runout a level</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>slopes by</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>slopes by, {mode}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>slower at most</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>slower each day</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>slowest going on the way in</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>smallest slope that counts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>snow cave</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>snow depth</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>snow it needs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>snow left undug</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>snow trench</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>something else to take along</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>spacing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/layout.py" />
      <source>spacings</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>speed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>speed in the dark</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>speed left by earlier days</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>speed lost for each 4.5 kg more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>speed on a broken trail</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>speed on an unbroken trail</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>speed on the level</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>speed with 30 kg of sled a head</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>spoils a site</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>stands anywhere</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/stand.py" />
      <source>stands of trees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>start</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>steepest bit of the way in</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>steepest cell</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>steepest cell under a shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>steepest ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>steepest ground for a sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>steepest slope that releases</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>stowed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/water.py" />
      <source>streams by the lie of the land</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_strip.py" />
      <source>sunrise {time}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_strip.py" />
      <source>sunset {time}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>supplies at</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>supplies last</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>take over marks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>take the next or previous point or corner in hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>take the pick down</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>tell where it is now</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>temperature</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>ten-person tent</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>the alternate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>the best mean</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>the best weakest night</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>the end of light less the pitching time</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/day_way.py" />
      <source>the end of the route</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>the fewest days</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/main_window.py" />
      <source>the file {name} isn't where the plan says</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>the function's own</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/typed_places.py" />
      <source>the ground isn't read yet</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/asking.py" />
      <source>the ground isn't read yet, so no way can be looked for</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>the head of the column, in turns</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the hour is given</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the hour of departure</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>the layout</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>the least time on the move</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>the loaded vehicle weighs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the map</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the map is given</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>the planning rate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>the printer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/printing.py" />
      <source>the printer could not be started</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/printing.py" />
      <source>the printer is set to paper of {width:.0f} x {height:.0f} mm, and the sheet is laid out for {width_mm:.0f} x {height_mm:.0f} mm</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>the reasons</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the route is given</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>the same uphill</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>the sun does not rise</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the task, as trainees read it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>the timetable</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/work_order.py" />
      <source>the trail past the site</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>the trainer alone</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the unit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the unit is given</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>the usual speed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>the way past</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the weather</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the weather is given</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the weights and limits</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>the whole route</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>the winter timing card</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>their reasons</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>three quarters as much</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>three times as much</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>time for log shelters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>time for snow caves</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>time for snow trenches</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>time for tents</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pitching.py" />
      <source>time for vehicles</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>time of arrival</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/delay_rows.py" />
      <source>time of the delay</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>time to put one up</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>time under shelter</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>times</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>title of the exercise</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>to hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>tolerance of a door</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/exercise.py" />
      <source>tolerance of a place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>trail</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_signs.py" />
      <source>trail past the site</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>trainee</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>trainee whose pick it is</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>trainee whose points change</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>trainees, a name a line</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>trainees, on their copies</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>trees</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>trees for the {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/sight.py" />
      <source>trees in the way of sight</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/treetops.py" />
      <source>trees off the heights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_sign.py" />
      <source>turn back {at}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>twice as much</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sites/split.py" />
      <source>two sites for the unit</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>unbroken</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>unchanged</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/model.py" />
      <source>unit of the heights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/side_copy.py" />
      <source>unsaved work can't be kept for a crash: {fault}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>untick all</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>uphill for a sled from</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>vehicle</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>very high</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/asking.py" />
      <source>wait for the first answer, or mend what it asks for</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/typed_places.py" />
      <source>wait for the first answer, then try again</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/journey/beside.py" />
      <source>waiting for room in memory</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../resources/emphases.csv" />
      <source>warmth</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>waste from water</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/security.py" />
      <source>watched out to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>water</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>water allowed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/camp/lay_out.py" />
      <source>water, latrines, stores</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>way back to the route next day</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_signs.py" />
      <source>way in</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/drainage.py" />
      <source>way of the water</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>way off the route</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/camp/way_out.py" />
      <source>way out to a track</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>way to the score</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/march/round_trip.py" />
      <source>way to water and back</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor.py" />
      <source>weight</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>weight of {label}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>weight of {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>wet ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>what</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>what can be done here</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>what carries {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>what counts is given</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sites/asked_layers.py" />
      <source>what else counts</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>what happens at a new place</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>what happens there</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>what stands where the map was clicked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/load_fields.py" />
      <source>what the kit list comes to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>what tonight is about</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>what was found</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>what {name} is joined to</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/cold.py" />
      <source>where cold air gathers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>where lies {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>which of the two</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>while it is light</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/pace.py" />
      <source>white ice</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>who breaks the trail</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>who has {name}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/mark.py" />
      <source>who sees it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>who sees mark {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>why</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>why the points change</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/shelter.py" />
      <source>width</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/facility.py" />
      <source>width of the clearing</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/weights.py" />
      <source>wind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/factor_words.py" />
      <source>wind at the shelters</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>wind from</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/terrain/wind.py" />
      <source>wind over the ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>wind speed</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>with a loaded sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handing_out.py" />
      <source>with every layer of the ground</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>without a sled</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/camp/lay_out.py" />
      <source>work on arrival</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/layout.py" />
      <source>worth of a degree of slope</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/layout.py" />
      <source>worth of shelter from the wind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/typed_places.py" />
      <source>write it like 34W DA 67413 26991</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>write the days' numbers, such as 3, 5</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>write the journey to a folder</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>write the pack</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>writing the PDF</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sheet/handout.py" />
      <source>writing the answer</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sheet/journey_handout.py" />
      <source>writing the comparison</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sheet/handout.py" />
      <source>writing the files for hand-held maps</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sheet/layers.py" />
      <source>writing the layers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/sheet/handout.py" />
      <source>writing the map layers</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>writing the order</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>your name</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>your own</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/order_notes.py" />
      <source>your own lines</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/what_counts.py" />
      <source>your own weights</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>your reasons</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>zone of the clocks</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/help_window.py" />
      <source>zoom</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_fields.py" />
      <source>{0} and {1}, as local rules and the land owner allow.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_exercise.py" />
      <source>{0} for room within the limits, {1} for how good the ground is, {2} for the alternate, {3} for the layout, {4} for the timetable and {5} for the reasons.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>{0} of {1} in a {2} that stands {3}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>{0} {1} seen by {2}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>{amount:.0f} l of fuel to melt it</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>{amount:.0f} l of snow to melt</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>{amount:.1f} m³ of boughs</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>{amount:.1f} m³ of firewood</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/answer_line.py" />
      <source>{count} cautions</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/journey_strip.py" />
      <source>{count} days</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/exercise_desk.py" />
      <source>{count} files</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/plan/shelter.py" />
      <source>{count} five-person tents</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/day_line.py" />
      <source>{count} halts</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>{count} hidden sites</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/plan/shelter.py" />
      <source>{count} lean-tos</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>{count} pages</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>{count} people</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>{count} people sleep</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>{count} places</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>{count} places hold</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>{count} shelters</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/page_camp.py" />
      <source>{count} shelters find</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>{count} shelters stand</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/plan/shelter.py" />
      <source>{count} snow caves</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/plan/shelter.py" />
      <source>{count} snow trenches</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/plan/shelter.py" />
      <source>{count} ten-person tents</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>{count} things</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>{count} things do now</source>
      <translation type="unfinished" />
    </message>
    <message numerus="yes">
      <location filename="../../sitepick/plan/shelter.py" />
      <source>{count} vehicles</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_march.py" />
      <source>{depart} {start_name} – {arrive} {end_name}: {distance_m}, {climb_m:.0f} m up, {descent_m:.0f} m down</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>{detour} off the route</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>{free} of {places} are free.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>{free} of {places} is free.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>{held} {people} people in {shelters}, best first.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/further_counts.py" />
      <source>{label} does now</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/own_kinds.py" />
      <source>{label} of the {kind}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>{label} {measure}, scores {score:.0f} of 100</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/swing_dialog.py" />
      <source>{label}, {span}, matters {field}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/fields.py" />
      <source>{low} to {high}{unit}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/curve_rows.py" />
      <source>{measure} scores {score}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>{minutes:.0f} min</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>{names} and {number} more tiles</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/route_pictures.py" />
      <source>{names}: course from above and heights along the way.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/field_book.py" />
      <source>{name} (Ctrl+{index})</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>{name} has been written by another window or program since it was opened here.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/plan_files.py" />
      <source>{name} has changes that are not saved.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_sites.py" />
      <source>{name} is not listed. {told}{scored}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>{name} is the leader's</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/field_book.py" />
      <source>{name} page</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>{name} ticked</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_strip.py" />
      <source>{name}, {days}. {told}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_strip.py" />
      <source>{number}  rest{pinned}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_strip.py" />
      <source>{number}  {distance_km:.1f} km, {hours:.1f} h{pinned}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>{number} more</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>{pages} sent to {printer}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/words.py" />
      <source>{parts} and {last}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/shelter_list.py" />
      <source>{people} in {shelters}; </source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>{share:.0f} % of the open wind</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_ground.py" />
      <source>{share:.1f} % of the ground in reach is not known.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/pace_fields.py" />
      <source>{source} Holds for: {limits}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>{spare_min:.0f} min before camp-by{firm}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/guide.py" />
      <source>{step} of {count}. {told}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/journey_rows.py" />
      <source>{text!r} is no list of days</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>{text}, after dark.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>{text}, before dark.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/kit_list.py" />
      <source>{ticked} of {things} ticked.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page.py" />
      <source>{title} page</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>{told} mark {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_marks.py" />
      <source>{told} of mark {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/handout_work.py" />
      <source>{told} {files} of layers in {folder}.</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_list.py" />
      <source>{told}, by hand</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_signs.py" />
      <source>{trainee}, alternate</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/exercise_answers.py" />
      <source>{trainee}: {points:g} for {item}, {note}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>{what}: done</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/camp_work.py" />
      <source>{what}: what was found</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/ground_reading.py" />
      <source>{wind:.0f} of {open:.0f} {unit}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/page_journey.py" />
      <source>{wish} night {number}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/desk/site_entry.py" />
      <source>{wish}: site {rank}</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/avalanche.py" />
      <source>°</source>
      <translation type="unfinished" />
    </message>
    <message>
      <location filename="../../sitepick/plan/journey.py" />
      <source>°C</source>
      <translation type="unfinished" />
    </message>
  </context>
</TS>
