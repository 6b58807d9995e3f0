BEGIN TRANSACTION;
CREATE TABLE "auth_group" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(150) NOT NULL UNIQUE);
INSERT INTO "auth_group" VALUES(1,'reader');
INSERT INTO "auth_group" VALUES(2,'bench');
INSERT INTO "auth_group" VALUES(3,'office');
CREATE TABLE "auth_group_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "auth_group_permissions" VALUES(1,1,13);
INSERT INTO "auth_group_permissions" VALUES(2,2,13);
INSERT INTO "auth_group_permissions" VALUES(3,2,14);
INSERT INTO "auth_group_permissions" VALUES(4,3,13);
INSERT INTO "auth_group_permissions" VALUES(5,3,14);
INSERT INTO "auth_group_permissions" VALUES(6,3,15);
CREATE TABLE "auth_permission" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "content_type_id" integer NOT NULL REFERENCES "django_content_type" ("id") DEFERRABLE INITIALLY DEFERRED, "codename" varchar(100) NOT NULL, "name" varchar(255) NOT NULL);
INSERT INTO "auth_permission" VALUES(1,1,'add_permission','Can add permission');
INSERT INTO "auth_permission" VALUES(2,1,'change_permission','Can change permission');
INSERT INTO "auth_permission" VALUES(3,1,'delete_permission','Can delete permission');
INSERT INTO "auth_permission" VALUES(4,1,'view_permission','Can view permission');
INSERT INTO "auth_permission" VALUES(5,2,'add_group','Can add group');
INSERT INTO "auth_permission" VALUES(6,2,'change_group','Can change group');
INSERT INTO "auth_permission" VALUES(7,2,'delete_group','Can delete group');
INSERT INTO "auth_permission" VALUES(8,2,'view_group','Can view group');
INSERT INTO "auth_permission" VALUES(9,3,'add_user','Can add user');
INSERT INTO "auth_permission" VALUES(10,3,'change_user','Can change user');
INSERT INTO "auth_permission" VALUES(11,3,'delete_user','Can delete user');
INSERT INTO "auth_permission" VALUES(12,3,'view_user','Can view user');
INSERT INTO "auth_permission" VALUES(13,4,'see','See jobs, readings and results');
INSERT INTO "auth_permission" VALUES(14,4,'enter','Take readings and photos, decide on parts');
INSERT INTO "auth_permission" VALUES(15,4,'office','Keep customers, units, model sheets and instruments; import and export');
INSERT INTO "auth_permission" VALUES(16,5,'add_contenttype','Can add content type');
INSERT INTO "auth_permission" VALUES(17,5,'change_contenttype','Can change content type');
INSERT INTO "auth_permission" VALUES(18,5,'delete_contenttype','Can delete content type');
INSERT INTO "auth_permission" VALUES(19,5,'view_contenttype','Can view content type');
INSERT INTO "auth_permission" VALUES(20,6,'add_session','Can add session');
INSERT INTO "auth_permission" VALUES(21,6,'change_session','Can change session');
INSERT INTO "auth_permission" VALUES(22,6,'delete_session','Can delete session');
INSERT INTO "auth_permission" VALUES(23,6,'view_session','Can view session');
INSERT INTO "auth_permission" VALUES(24,7,'add_accessattempt','Can add access attempt');
INSERT INTO "auth_permission" VALUES(25,7,'change_accessattempt','Can change access attempt');
INSERT INTO "auth_permission" VALUES(26,7,'delete_accessattempt','Can delete access attempt');
INSERT INTO "auth_permission" VALUES(27,7,'view_accessattempt','Can view access attempt');
INSERT INTO "auth_permission" VALUES(28,8,'add_accesslog','Can add access log');
INSERT INTO "auth_permission" VALUES(29,8,'change_accesslog','Can change access log');
INSERT INTO "auth_permission" VALUES(30,8,'delete_accesslog','Can delete access log');
INSERT INTO "auth_permission" VALUES(31,8,'view_accesslog','Can view access log');
INSERT INTO "auth_permission" VALUES(32,9,'add_accessfailurelog','Can add access failure');
INSERT INTO "auth_permission" VALUES(33,9,'change_accessfailurelog','Can change access failure');
INSERT INTO "auth_permission" VALUES(34,9,'delete_accessfailurelog','Can delete access failure');
INSERT INTO "auth_permission" VALUES(35,9,'view_accessfailurelog','Can view access failure');
INSERT INTO "auth_permission" VALUES(36,10,'add_accessattemptexpiration','Can add access attempt expiration');
INSERT INTO "auth_permission" VALUES(37,10,'change_accessattemptexpiration','Can change access attempt expiration');
INSERT INTO "auth_permission" VALUES(38,10,'delete_accessattemptexpiration','Can delete access attempt expiration');
INSERT INTO "auth_permission" VALUES(39,10,'view_accessattemptexpiration','Can view access attempt expiration');
INSERT INTO "auth_permission" VALUES(40,11,'add_customer','Can add customer');
INSERT INTO "auth_permission" VALUES(41,11,'change_customer','Can change customer');
INSERT INTO "auth_permission" VALUES(42,11,'delete_customer','Can delete customer');
INSERT INTO "auth_permission" VALUES(43,11,'view_customer','Can view customer');
INSERT INTO "auth_permission" VALUES(44,12,'add_unit','Can add unit');
INSERT INTO "auth_permission" VALUES(45,12,'change_unit','Can change unit');
INSERT INTO "auth_permission" VALUES(46,12,'delete_unit','Can delete unit');
INSERT INTO "auth_permission" VALUES(47,12,'view_unit','Can view unit');
INSERT INTO "auth_permission" VALUES(48,13,'add_instrument','Can add instrument');
INSERT INTO "auth_permission" VALUES(49,13,'change_instrument','Can change instrument');
INSERT INTO "auth_permission" VALUES(50,13,'delete_instrument','Can delete instrument');
INSERT INTO "auth_permission" VALUES(51,13,'view_instrument','Can view instrument');
INSERT INTO "auth_permission" VALUES(52,14,'add_job','Can add job');
INSERT INTO "auth_permission" VALUES(53,14,'change_job','Can change job');
INSERT INTO "auth_permission" VALUES(54,14,'delete_job','Can delete job');
INSERT INTO "auth_permission" VALUES(55,14,'view_job','Can view job');
INSERT INTO "auth_permission" VALUES(56,15,'add_person','Can add person');
INSERT INTO "auth_permission" VALUES(57,15,'change_person','Can change person');
INSERT INTO "auth_permission" VALUES(58,15,'delete_person','Can delete person');
INSERT INTO "auth_permission" VALUES(59,15,'view_person','Can view person');
INSERT INTO "auth_permission" VALUES(60,16,'add_part','Can add part');
INSERT INTO "auth_permission" VALUES(61,16,'change_part','Can change part');
INSERT INTO "auth_permission" VALUES(62,16,'delete_part','Can delete part');
INSERT INTO "auth_permission" VALUES(63,16,'view_part','Can view part');
INSERT INTO "auth_permission" VALUES(64,17,'add_disposition','Can add disposition');
INSERT INTO "auth_permission" VALUES(65,17,'change_disposition','Can change disposition');
INSERT INTO "auth_permission" VALUES(66,17,'delete_disposition','Can delete disposition');
INSERT INTO "auth_permission" VALUES(67,17,'view_disposition','Can view disposition');
INSERT INTO "auth_permission" VALUES(68,18,'add_change','Can add change');
INSERT INTO "auth_permission" VALUES(69,18,'change_change','Can change change');
INSERT INTO "auth_permission" VALUES(70,18,'delete_change','Can delete change');
INSERT INTO "auth_permission" VALUES(71,18,'view_change','Can view change');
INSERT INTO "auth_permission" VALUES(72,19,'add_photo','Can add photo');
INSERT INTO "auth_permission" VALUES(73,19,'change_photo','Can change photo');
INSERT INTO "auth_permission" VALUES(74,19,'delete_photo','Can delete photo');
INSERT INTO "auth_permission" VALUES(75,19,'view_photo','Can view photo');
INSERT INTO "auth_permission" VALUES(76,20,'add_reading','Can add reading');
INSERT INTO "auth_permission" VALUES(77,20,'change_reading','Can change reading');
INSERT INTO "auth_permission" VALUES(78,20,'delete_reading','Can delete reading');
INSERT INTO "auth_permission" VALUES(79,20,'view_reading','Can view reading');
INSERT INTO "auth_permission" VALUES(80,21,'add_result','Can add result');
INSERT INTO "auth_permission" VALUES(81,21,'change_result','Can change result');
INSERT INTO "auth_permission" VALUES(82,21,'delete_result','Can delete result');
INSERT INTO "auth_permission" VALUES(83,21,'view_result','Can view result');
INSERT INTO "auth_permission" VALUES(84,22,'add_checkstanding','Can add check standing');
INSERT INTO "auth_permission" VALUES(85,22,'change_checkstanding','Can change check standing');
INSERT INTO "auth_permission" VALUES(86,22,'delete_checkstanding','Can delete check standing');
INSERT INTO "auth_permission" VALUES(87,22,'view_checkstanding','Can view check standing');
INSERT INTO "auth_permission" VALUES(88,23,'add_sheetversion','Can add version of a model sheet');
INSERT INTO "auth_permission" VALUES(89,23,'change_sheetversion','Can change version of a model sheet');
INSERT INTO "auth_permission" VALUES(90,23,'delete_sheetversion','Can delete version of a model sheet');
INSERT INTO "auth_permission" VALUES(91,23,'view_sheetversion','Can view version of a model sheet');
INSERT INTO "auth_permission" VALUES(92,24,'add_shop','Can add shop');
INSERT INTO "auth_permission" VALUES(93,24,'change_shop','Can change shop');
INSERT INTO "auth_permission" VALUES(94,24,'delete_shop','Can delete shop');
INSERT INTO "auth_permission" VALUES(95,24,'view_shop','Can view shop');
INSERT INTO "auth_permission" VALUES(96,25,'add_approval','Can add approval');
INSERT INTO "auth_permission" VALUES(97,25,'change_approval','Can change approval');
INSERT INTO "auth_permission" VALUES(98,25,'delete_approval','Can delete approval');
INSERT INTO "auth_permission" VALUES(99,25,'view_approval','Can view approval');
INSERT INTO "auth_permission" VALUES(100,26,'add_shopkey','Can add signing key');
INSERT INTO "auth_permission" VALUES(101,26,'change_shopkey','Can change signing key');
INSERT INTO "auth_permission" VALUES(102,26,'delete_shopkey','Can delete signing key');
INSERT INTO "auth_permission" VALUES(103,26,'view_shopkey','Can view signing key');
INSERT INTO "auth_permission" VALUES(104,27,'add_seal','Can add seal');
INSERT INTO "auth_permission" VALUES(105,27,'change_seal','Can change seal');
INSERT INTO "auth_permission" VALUES(106,27,'delete_seal','Can delete seal');
INSERT INTO "auth_permission" VALUES(107,27,'view_seal','Can view seal');
INSERT INTO "auth_permission" VALUES(108,28,'add_meter','Can add meter');
INSERT INTO "auth_permission" VALUES(109,28,'change_meter','Can change meter');
INSERT INTO "auth_permission" VALUES(110,28,'delete_meter','Can delete meter');
INSERT INTO "auth_permission" VALUES(111,28,'view_meter','Can view meter');
CREATE TABLE "auth_user" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "password" varchar(128) NOT NULL, "last_login" datetime NULL, "is_superuser" bool NOT NULL, "username" varchar(150) NOT NULL UNIQUE, "last_name" varchar(150) NOT NULL, "email" varchar(254) NOT NULL, "is_staff" bool NOT NULL, "is_active" bool NOT NULL, "date_joined" datetime NOT NULL, "first_name" varchar(150) NOT NULL);
CREATE TABLE "auth_user_groups" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_id" integer NOT NULL REFERENCES "auth_user" ("id") DEFERRABLE INITIALLY DEFERRED, "group_id" integer NOT NULL REFERENCES "auth_group" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "auth_user_user_permissions" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_id" integer NOT NULL REFERENCES "auth_user" ("id") DEFERRABLE INITIALLY DEFERRED, "permission_id" integer NOT NULL REFERENCES "auth_permission" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "axes_accessattempt" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_agent" varchar(255) NOT NULL, "ip_address" char(39) NULL, "username" varchar(255) NULL, "http_accept" varchar(1025) NOT NULL, "path_info" varchar(255) NOT NULL, "attempt_time" datetime NOT NULL, "get_data" text NOT NULL, "post_data" text NOT NULL, "failures_since_start" integer unsigned NOT NULL CHECK ("failures_since_start" >= 0));
CREATE TABLE "axes_accessattemptexpiration" ("access_attempt_id" integer NOT NULL PRIMARY KEY REFERENCES "axes_accessattempt" ("id") DEFERRABLE INITIALLY DEFERRED, "expires_at" datetime NOT NULL);
CREATE TABLE "axes_accessfailurelog" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_agent" varchar(255) NOT NULL, "ip_address" char(39) NULL, "username" varchar(255) NULL, "http_accept" varchar(1025) NOT NULL, "path_info" varchar(255) NOT NULL, "attempt_time" datetime NOT NULL, "locked_out" bool NOT NULL);
CREATE TABLE "axes_accesslog" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "user_agent" varchar(255) NOT NULL, "ip_address" char(39) NULL, "username" varchar(255) NULL, "http_accept" varchar(1025) NOT NULL, "path_info" varchar(255) NOT NULL, "attempt_time" datetime NOT NULL, "logout_time" datetime NULL, "session_hash" varchar(64) NOT NULL);
CREATE TABLE "django_content_type" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app_label" varchar(100) NOT NULL, "model" varchar(100) NOT NULL);
INSERT INTO "django_content_type" VALUES(1,'auth','permission');
INSERT INTO "django_content_type" VALUES(2,'auth','group');
INSERT INTO "django_content_type" VALUES(3,'auth','user');
INSERT INTO "django_content_type" VALUES(4,'web','shop');
INSERT INTO "django_content_type" VALUES(5,'contenttypes','contenttype');
INSERT INTO "django_content_type" VALUES(6,'sessions','session');
INSERT INTO "django_content_type" VALUES(7,'axes','accessattempt');
INSERT INTO "django_content_type" VALUES(8,'axes','accesslog');
INSERT INTO "django_content_type" VALUES(9,'axes','accessfailurelog');
INSERT INTO "django_content_type" VALUES(10,'axes','accessattemptexpiration');
INSERT INTO "django_content_type" VALUES(11,'record','customer');
INSERT INTO "django_content_type" VALUES(12,'record','unit');
INSERT INTO "django_content_type" VALUES(13,'record','instrument');
INSERT INTO "django_content_type" VALUES(14,'record','job');
INSERT INTO "django_content_type" VALUES(15,'record','person');
INSERT INTO "django_content_type" VALUES(16,'record','part');
INSERT INTO "django_content_type" VALUES(17,'record','disposition');
INSERT INTO "django_content_type" VALUES(18,'record','change');
INSERT INTO "django_content_type" VALUES(19,'record','photo');
INSERT INTO "django_content_type" VALUES(20,'record','reading');
INSERT INTO "django_content_type" VALUES(21,'record','result');
INSERT INTO "django_content_type" VALUES(22,'record','checkstanding');
INSERT INTO "django_content_type" VALUES(23,'record','sheetversion');
INSERT INTO "django_content_type" VALUES(24,'record','shop');
INSERT INTO "django_content_type" VALUES(25,'record','approval');
INSERT INTO "django_content_type" VALUES(26,'record','shopkey');
INSERT INTO "django_content_type" VALUES(27,'record','seal');
INSERT INTO "django_content_type" VALUES(28,'record','meter');
CREATE TABLE "django_migrations" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "app" varchar(255) NOT NULL, "name" varchar(255) NOT NULL, "applied" datetime NOT NULL);
INSERT INTO "django_migrations" VALUES(1,'contenttypes','0001_initial','2026-11-26 14:05:22.400506');
INSERT INTO "django_migrations" VALUES(2,'contenttypes','0002_remove_content_type_name','2026-11-26 14:05:22.823883');
INSERT INTO "django_migrations" VALUES(3,'auth','0001_initial','2026-11-26 14:05:22.875395');
INSERT INTO "django_migrations" VALUES(4,'auth','0002_alter_permission_name_max_length','2026-11-26 14:05:22.888078');
INSERT INTO "django_migrations" VALUES(5,'auth','0003_alter_user_email_max_length','2026-11-26 14:05:22.916942');
INSERT INTO "django_migrations" VALUES(6,'auth','0004_alter_user_username_opts','2026-11-26 14:05:22.937471');
INSERT INTO "django_migrations" VALUES(7,'auth','0005_alter_user_last_login_null','2026-11-26 14:05:22.973919');
INSERT INTO "django_migrations" VALUES(8,'auth','0006_require_contenttypes_0002','2026-11-26 14:05:22.999451');
INSERT INTO "django_migrations" VALUES(9,'auth','0007_alter_validators_add_error_messages','2026-11-26 14:05:23.006476');
INSERT INTO "django_migrations" VALUES(10,'auth','0008_alter_user_username_max_length','2026-11-26 14:05:23.034030');
INSERT INTO "django_migrations" VALUES(11,'auth','0009_alter_user_last_name_max_length','2026-11-26 14:05:23.073684');
INSERT INTO "django_migrations" VALUES(12,'auth','0010_alter_group_name_max_length','2026-11-26 14:05:23.108236');
INSERT INTO "django_migrations" VALUES(13,'auth','0011_update_proxy_permissions','2026-11-26 14:05:23.118725');
INSERT INTO "django_migrations" VALUES(14,'auth','0012_alter_user_first_name_max_length','2026-11-26 14:05:23.153796');
INSERT INTO "django_migrations" VALUES(15,'axes','0001_initial','2026-11-26 14:05:23.184718');
INSERT INTO "django_migrations" VALUES(16,'axes','0002_auto_20151217_2044','2026-11-26 14:05:23.300980');
INSERT INTO "django_migrations" VALUES(17,'axes','0003_auto_20160322_0929','2026-11-26 14:05:23.354684');
INSERT INTO "django_migrations" VALUES(18,'axes','0004_auto_20181024_1538','2026-11-26 14:05:23.397604');
INSERT INTO "django_migrations" VALUES(19,'axes','0005_remove_accessattempt_trusted','2026-11-26 14:05:23.506482');
INSERT INTO "django_migrations" VALUES(20,'axes','0006_remove_accesslog_trusted','2026-11-26 14:05:23.571808');
INSERT INTO "django_migrations" VALUES(21,'axes','0007_alter_accessattempt_unique_together','2026-11-26 14:05:23.594146');
INSERT INTO "django_migrations" VALUES(22,'axes','0008_accessfailurelog','2026-11-26 14:05:23.608628');
INSERT INTO "django_migrations" VALUES(23,'axes','0009_add_session_hash','2026-11-26 14:05:23.636528');
INSERT INTO "django_migrations" VALUES(24,'axes','0010_accessattemptexpiration','2026-11-26 14:05:23.657207');
INSERT INTO "django_migrations" VALUES(25,'record','0001_first','2026-11-26 14:05:24.724777');
INSERT INTO "django_migrations" VALUES(26,'record','0002_kept_for_good','2026-11-26 14:05:24.801589');
INSERT INTO "django_migrations" VALUES(27,'record','0003_reason_of_a_struck_reading','2026-11-26 14:05:25.169477');
INSERT INTO "django_migrations" VALUES(28,'record','0004_approval','2026-11-26 14:05:25.517520');
INSERT INTO "django_migrations" VALUES(29,'record','0005_what_the_shop_prints','2026-11-26 14:05:25.588006');
INSERT INTO "django_migrations" VALUES(30,'record','0006_chained_and_sealed','2026-11-26 14:05:26.216969');
INSERT INTO "django_migrations" VALUES(31,'record','0007_meters_that_talk','2026-11-26 14:05:26.588241');
INSERT INTO "django_migrations" VALUES(32,'sessions','0001_initial','2026-11-26 14:05:26.621104');
CREATE TABLE "django_session" ("session_key" varchar(40) NOT NULL PRIMARY KEY, "session_data" text NOT NULL, "expire_date" datetime NOT NULL);
CREATE TABLE "record_approval" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "answer" varchar(8) NOT NULL, "choice" varchar(8) NOT NULL, "said_by" varchar(120) NOT NULL, "way" varchar(12) NOT NULL, "note" text NOT NULL, "shown" text NOT NULL CHECK ((JSON_VALID("shown") OR "shown" IS NULL)), "sha256" varchar(64) NOT NULL, "software_version" varchar(40) NOT NULL, "recorded_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_approval" VALUES(1,'approved','must','Ada (invented)','by telephone','','{"added": [], "as_it_is": null, "choices": [{"cost": ["209.5717925", "209.5717925"], "deposit": "0", "for_each": null, "key": "must", "labour": ["137.61075", "137.61075"], "life": null, "line": "Rebuild, what must be done: 209.57 EUR (parts 38.50 EUR, labour 137.61 EUR, tax 33.46 EUR); how long it lasts is not known.", "parts": ["38.50", "38.50"], "tax": ["33.4610425", "33.4610425"], "title": "Rebuild, what must be done"}, {"cost": ["343.91000", "343.91000"], "deposit": "0", "for_each": null, "key": "exchange", "labour": ["0.000", "0.000"], "life": null, "line": "Exchange unit: 343.91 EUR (unit 289.00 EUR, labour 0.00 EUR, tax 54.91 EUR); how long it lasts is not known.", "parts": ["289", "289"], "tax": ["54.91000", "54.91000"], "title": "Exchange unit"}], "currency": "EUR", "labour_rate": "64.005", "parts": [{"hours": ["0.4", "0.4"], "name": "brush set", "need": "must", "price": ["38.50", "38.50"], "why": "", "worn": null}], "said": ["How much it has run is not known, so nothing can be said about how long it lasts.", "How long it is to last was not said: only prices were compared."], "service": {"so_far": null, "unit": "hours", "wanted": null}, "shown": ["Rebuild, what must be done: 209.57 EUR. It is the cheapest.", "Rebuild, what must be done: 209.57 EUR (parts 38.50 EUR, labour 137.61 EUR, tax 33.46 EUR); how long it lasts is not known.", "Exchange unit: 343.91 EUR (unit 289.00 EUR, labour 0.00 EUR, tax 54.91 EUR); how long it lasts is not known."], "tax": "0.19", "title": "T-100", "verdict": "must", "why": "It is the cheapest."}','99c315e53eb7a72be1cd373c6702bd7fc82a8d50370308d6bfc75e86b47d37ab','0.1.0','2026-11-26 14:05:38.067926',1,NULL);
CREATE TABLE "record_change" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "at" datetime NOT NULL, "what" varchar(60) NOT NULL, "line" text NOT NULL, "details" text NOT NULL CHECK ((JSON_VALID("details") OR "details" IS NULL)), "job_id" bigint NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_change" VALUES(1,'2026-11-26 14:05:33.017022','unit added','Unit T-100, serial S1','{}',NULL,NULL);
INSERT INTO "record_change" VALUES(2,'2026-11-26 14:05:33.089742','customer added','Customer Invented Farm','{}',NULL,NULL);
INSERT INTO "record_change" VALUES(3,'2026-11-26 14:05:33.135997','sheet stored','Sheet demo-57-wave, version 1: Invented 12 V starter, 57 bars, wave wound','{}',NULL,NULL);
INSERT INTO "record_change" VALUES(4,'2026-11-26 14:05:33.150091','job opened','Job 2026-0007: unit T-100 of Invented Farm','{}',1,1);
INSERT INTO "record_change" VALUES(5,'2026-11-26 14:05:37.978438','photo added','Job 2026-0007: photo drive end','{}',1,1);
INSERT INTO "record_change" VALUES(6,'2026-11-26 14:05:38.032884','part recorded','Job 2026-0007: 2 bush replaced','{}',1,1);
INSERT INTO "record_change" VALUES(7,'2026-11-26 14:05:38.049757','part decided','Job 2026-0007: Commutator: rework','{}',1,1);
INSERT INTO "record_change" VALUES(8,'2026-11-26 14:05:38.079969','price answered','Job 2026-0007: approved by Ada (invented), by telephone: Rebuild, what must be done','{}',1,NULL);
CREATE TABLE "record_checkstanding" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "in_force" integer unsigned NOT NULL CHECK ("in_force" >= 0), "touches" integer unsigned NOT NULL CHECK ("touches" >= 0), "decided_touches" integer unsigned NOT NULL CHECK ("decided_touches" >= 0), "touched_at" datetime NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "result_id" bigint NULL REFERENCES "record_result" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "one_standing_per_check" UNIQUE ("job_id", "station_key", "check_key"));
INSERT INTO "record_checkstanding" VALUES(1,'commutator','diameter',1,2,2,'2026-11-26 14:05:33.423231',1,2);
INSERT INTO "record_checkstanding" VALUES(2,'armature','winding',57,59,59,'2026-11-26 14:05:36.113636',1,4);
INSERT INTO "record_checkstanding" VALUES(3,'intake','turns-by-hand',1,1,1,'2026-11-26 14:05:36.129066',1,3);
INSERT INTO "record_checkstanding" VALUES(4,'intake','as-received',1,1,1,'2026-11-26 14:05:37.985952',1,5);
CREATE TABLE "record_customer" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(200) NOT NULL, "contact" text NOT NULL, "note" text NOT NULL, "invented" bool NOT NULL);
INSERT INTO "record_customer" VALUES(1,'Invented Farm','','',0);
CREATE TABLE "record_disposition" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "part" varchar(120) NOT NULL, "proposed" varchar(8) NOT NULL, "decided" varchar(8) NOT NULL, "reason" text NOT NULL, "decided_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "overruled_with_a_reason" CHECK (("proposed" = '' OR "decided" = ("proposed") OR NOT ("reason" = ''))));
INSERT INTO "record_disposition" VALUES(1,'commutator','','reuse','rework','turn it','2026-11-26 14:05:38.049310',1,1);
CREATE TABLE "record_instrument" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "tag" varchar(60) NOT NULL, "kind" varchar(80) NOT NULL, "quantity" varchar(20) NOT NULL, "unit" varchar(12) NOT NULL, "resolution_si" real NOT NULL, "calibration_standard_uncertainty_si" real NOT NULL, "repeatability_si" real NOT NULL, "calibrated_on" date NULL, "due_on" date NULL, "retired" bool NOT NULL, "follows_id" bigint NULL UNIQUE REFERENCES "record_instrument" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "instrument_figures_not_negative" CHECK (("calibration_standard_uncertainty_si" >= 0.0 AND "repeatability_si" >= 0.0 AND "resolution_si" >= 0.0)));
INSERT INTO "record_instrument" VALUES(1,'M1','micrometer','length','',2.54e-06,0.0,0.0,NULL,NULL,0,NULL);
CREATE TABLE "record_job" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "uuid" char(32) NOT NULL UNIQUE, "number" varchar(40) NOT NULL UNIQUE, "family_key" varchar(60) NOT NULL, "complaint" text NOT NULL, "state" varchar(8) NOT NULL, "waits_for" varchar(200) NOT NULL, "opened_at" datetime NOT NULL, "closed_at" datetime NULL, "last_seq" integer unsigned NOT NULL CHECK ("last_seq" >= 0), "invented" bool NOT NULL, "customer_id" bigint NOT NULL REFERENCES "record_customer" ("id") DEFERRABLE INITIALLY DEFERRED, "sheet_id" bigint NULL REFERENCES "record_sheetversion" ("id") DEFERRABLE INITIALLY DEFERRED, "unit_id" bigint NOT NULL REFERENCES "record_unit" ("id") DEFERRABLE INITIALLY DEFERRED, "chain_head" varchar(64) NOT NULL, "chained_seq" integer unsigned NOT NULL CHECK ("chained_seq" >= 0), "chained_at" datetime NULL);
INSERT INTO "record_job" VALUES(1,'29efdeb3960c479494440a3c6866b2c8','2026-0007','starter','slow','open','','2026-11-26 14:05:33.149387',NULL,63,0,1,1,1,'ec6a13203766b313aed7f1e788a77fa5837d97b55e2f322a03d58d26ae505108',0,NULL);
CREATE TABLE "record_meter" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "state" varchar(12) NOT NULL, "words" varchar(300) NOT NULL, "rule" varchar(300) NOT NULL, "heard_at" datetime NULL, "page" char(32) NULL, "follows" char(32) NULL, "page_at" datetime NULL, "how" varchar(6) NOT NULL, "pedal" varchar(20) NOT NULL, "presses" integer unsigned NOT NULL CHECK ("presses" >= 0), "number" integer unsigned NOT NULL CHECK ("number" >= 0), "key" char(32) NULL, "text" varchar(80) NOT NULL, "unit" varchar(12) NOT NULL, "said" varchar(200) NOT NULL, "offered_at" datetime NULL, "instrument_id" bigint NOT NULL UNIQUE REFERENCES "record_instrument" ("id") DEFERRABLE INITIALLY DEFERRED);
CREATE TABLE "record_part" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "name" varchar(120) NOT NULL, "part_number" varchar(80) NOT NULL, "action" varchar(8) NOT NULL, "quantity" integer unsigned NOT NULL CHECK ("quantity" >= 0), "note" text NOT NULL, "recorded_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_part" VALUES(1,'','bush','','replaced',2,'','2026-11-26 14:05:38.032366',1,1);
CREATE TABLE "record_person" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL UNIQUE, "role" varchar(8) NOT NULL, "active" bool NOT NULL, "user_id" integer NULL UNIQUE REFERENCES "auth_user" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_person" VALUES(1,'Anna (invented)','bench',1,NULL);
CREATE TABLE "record_photo" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "sha256" varchar(64) NOT NULL, "width" integer unsigned NOT NULL CHECK ("width" >= 0), "height" integer unsigned NOT NULL CHECK ("height" >= 0), "size_bytes" integer unsigned NOT NULL CHECK ("size_bytes" >= 0), "caption" varchar(200) NOT NULL, "recorded_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_photo" VALUES(1,'69088e470ea64064b24a79a660fee2bf','intake','as-received','8f678928dd1e0734e838e78203f352a3a75dd7e4a1a77fa1348e6eb36b3df476',60,40,429,'drive end','2026-11-26 14:05:37.977885',1,1);
CREATE TABLE "record_reading" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" char(32) NOT NULL UNIQUE, "seq" integer unsigned NOT NULL CHECK ("seq" >= 0), "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "test" varchar(20) NOT NULL, "place_from" varchar(16) NOT NULL, "place_to" varchar(16) NOT NULL, "track" varchar(16) NOT NULL, "value_si" real NULL, "entered" text NOT NULL, "unit" varchar(12) NOT NULL, "feed_from" integer unsigned NULL CHECK ("feed_from" >= 0), "feed_to" integer unsigned NULL CHECK ("feed_to" >= 0), "feed_amps" real NULL, "taken_at" datetime NOT NULL, "received_at" datetime NOT NULL, "struck" bool NOT NULL, "instrument_id" bigint NULL REFERENCES "record_instrument" ("id") DEFERRABLE INITIALLY DEFERRED, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, "reason" varchar(200) NOT NULL, "link" varchar(64) NOT NULL, "said" varchar(200) NOT NULL, "said_unit" varchar(12) NOT NULL, "supersedes_id" bigint NULL UNIQUE REFERENCES "record_reading" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "reading_numbered_once" UNIQUE ("job_id", "seq"), CONSTRAINT "struck_reading_names_which" CHECK ((NOT "struck" OR "supersedes_id" IS NOT NULL)), CONSTRAINT "struck_for_a_reason" CHECK ((("reason" = '' AND NOT "struck") OR ("struck" AND NOT ("reason" = '')))));
INSERT INTO "record_reading" VALUES(1,'731118ff92bc4f7eba7ba62b965aa6d1',1,'commutator','diameter','','1','','0.5',3.14959999999999962216e-02,'1.2400','in',NULL,NULL,NULL,'2026-11-26 14:05:33.295455','2026-11-26 14:05:33.295648',0,1,1,1,'','7e01955fea10c94681a5ace1c3f3287693ba5ea871dbe18cf0470b98b1b2bdb7','','',NULL);
INSERT INTO "record_reading" VALUES(2,'c93ce8a98ca640ebb2fc50ae6892a6b0',2,'commutator','diameter','','1','','0.5',3.15493399999999951655e-02,'1.2421','in',NULL,NULL,NULL,'2026-11-26 14:05:33.423128','2026-11-26 14:05:33.423231',0,1,1,1,'','8a6e325d1e326a7e58fd92cdb62233f4891f25140834c16df45d8740e44c6497','','',1);
INSERT INTO "record_reading" VALUES(3,'aaad1cf1992a41b88379479b5f5746cf',3,'armature','winding','drop','1','2','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:33.479286','2026-11-26 14:05:33.479415',0,NULL,1,1,'','ecacc502db7d887a57df64942ddad6ff47d1980a733631e294ecb4f126231a40','','',NULL);
INSERT INTO "record_reading" VALUES(4,'ffc7fa8125064f08a966e30296f4bbf7',4,'armature','winding','drop','2','3','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:33.497076','2026-11-26 14:05:33.497156',0,NULL,1,1,'','d05fd4204f2f84a64db0ca0d8ec7c530a7f0ad4dc11d7e0e278b111554480a4d','','',NULL);
INSERT INTO "record_reading" VALUES(5,'bd39117e73e043be92fecc79767dfe18',5,'armature','winding','drop','3','4','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:33.517717','2026-11-26 14:05:33.517789',0,NULL,1,1,'','d382507cecb5ae3ced15d056d31898c1b893a4e3f0257546d2d5d86191fd6f68','','',NULL);
INSERT INTO "record_reading" VALUES(6,'35e6978e553a48bebeeed5d9e31b0c86',6,'armature','winding','drop','4','5','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:33.544993','2026-11-26 14:05:33.545108',0,NULL,1,1,'','ef1dcd6491fa45441dc22b5b7988731e68c888d352c388fd880b2bf1e4430d0a','','',NULL);
INSERT INTO "record_reading" VALUES(7,'62413ab4c0cb46689f76d83b9c08fcca',7,'armature','winding','drop','5','6','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:33.557279','2026-11-26 14:05:33.557340',0,NULL,1,1,'','54e7ca47f42666ede8c96dbf31add65c6941d6f397532cda222918e002c71751','','',NULL);
INSERT INTO "record_reading" VALUES(8,'d1f8f4f178cb4b01b766641daeef3fd0',8,'armature','winding','drop','6','7','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:33.581538','2026-11-26 14:05:33.581605',0,NULL,1,1,'','395c614c6a613478aaff0437e29e7e48887f7e9902294cf72668a6eb98d84966','','',NULL);
INSERT INTO "record_reading" VALUES(9,'4d2c4d6da55c44ffac573eb2eb357dae',9,'armature','winding','drop','7','8','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:33.609305','2026-11-26 14:05:33.609403',0,NULL,1,1,'','8f3854ee8402d85df406756eb39679d4fc26fea6d86b8a96630e1aab8df03f2a','','',NULL);
INSERT INTO "record_reading" VALUES(10,'c6ee239c917347ed91ae4a036f35ae50',10,'armature','winding','drop','8','9','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:33.618175','2026-11-26 14:05:33.618227',0,NULL,1,1,'','d57443807a8e978a9f6e104e376c87ac589601241f970e262b58df4119e78c04','','',NULL);
INSERT INTO "record_reading" VALUES(11,'8ca04ecf419d4b4d866a1167551d890b',11,'armature','winding','drop','9','10','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:33.644423','2026-11-26 14:05:33.644485',0,NULL,1,1,'','a0b4e018c859f81dcb6c82143e1a92b445be3175787a12b2d7a4558736ee3073','','',NULL);
INSERT INTO "record_reading" VALUES(12,'b7f915e60d8e47d296d229af9657cee4',12,'armature','winding','drop','10','11','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:33.678918','2026-11-26 14:05:33.687072',0,NULL,1,1,'','d1431d2886f1584637606ad6e0f89563b870d4d4b48ff065d4b11c2931f66b26','','',NULL);
INSERT INTO "record_reading" VALUES(13,'5093c33ca2be4737b4cf33d50fbad30f',13,'armature','winding','drop','11','12','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:33.712069','2026-11-26 14:05:33.712146',0,NULL,1,1,'','1616253bb911bfa77332616572ce66f27bad97e3f7c661199702222cc96703c7','','',NULL);
INSERT INTO "record_reading" VALUES(14,'3c59146a11254c15bc389d2938360338',14,'armature','winding','drop','12','13','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:33.734033','2026-11-26 14:05:33.734124',0,NULL,1,1,'','ceddd8d263c4fcb0d62b25aa63f464d311850696157c3527af2c8af4af7b94ca','','',NULL);
INSERT INTO "record_reading" VALUES(15,'5fade85f50df4ba6a7635a4c183f9da4',15,'armature','winding','drop','13','14','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:33.761664','2026-11-26 14:05:33.761749',0,NULL,1,1,'','fbf34f8590fdfe359d7d078051141f084cc3471ff5f1882df789c1006649ded7','','',NULL);
INSERT INTO "record_reading" VALUES(16,'712169ece21f431e9fbf867371693e2c',16,'armature','winding','drop','14','15','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:33.789887','2026-11-26 14:05:33.789971',0,NULL,1,1,'','2058f9dbdf075a4989824be1ab6124cee3dd859d80535d356f90dfcec0688912','','',NULL);
INSERT INTO "record_reading" VALUES(17,'4db1b3532f994e94a4276b09215e97cb',17,'armature','winding','drop','15','16','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:33.831834','2026-11-26 14:05:33.831935',0,NULL,1,1,'','9e76cc5936dbd10dd53c41441032a1dcdba2546a76842625f190fc17ca792fef','','',NULL);
INSERT INTO "record_reading" VALUES(18,'983f3fc965714b36a869fbcb19a73182',18,'armature','winding','drop','16','17','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:34.209363','2026-11-26 14:05:34.209425',0,NULL,1,1,'','bebdcde3fa85cecded5f9886e91db2c5e908533da3e12dda367b766662816b42','','',NULL);
INSERT INTO "record_reading" VALUES(19,'2f9159c3751044eea80fd25439a72963',19,'armature','winding','drop','17','18','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:34.308303','2026-11-26 14:05:34.308405',0,NULL,1,1,'','7fed7a8fa2de436152ce1c17d34a1c64a77edc685211072dcf43faa96d9dcf99','','',NULL);
INSERT INTO "record_reading" VALUES(20,'6ac5d55397824d3e9c4e9b01642ef93b',20,'armature','winding','drop','18','19','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:34.351937','2026-11-26 14:05:34.352035',0,NULL,1,1,'','171aaf6a2aa66eedef29b11002770e363c164f9319e70766ecd6e2e11dd8a8db','','',NULL);
INSERT INTO "record_reading" VALUES(21,'c347fff8aaf94c1fb43bbaf79d917c86',21,'armature','winding','drop','19','20','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:34.374517','2026-11-26 14:05:34.374587',0,NULL,1,1,'','20c58a6ff7fa9533e39ecf1154aa1de2de745e7eef95655b2c3717059a5f56db','','',NULL);
INSERT INTO "record_reading" VALUES(22,'7ea38435ef4c4f20893aa77551642b9b',22,'armature','winding','drop','20','21','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:34.407502','2026-11-26 14:05:34.407585',0,NULL,1,1,'','26810c802090a06746ea0c7c5103a064fd66b3f08a89ba7db30d603e05291781','','',NULL);
INSERT INTO "record_reading" VALUES(23,'52667dc2596d4d39adb34fc026af447a',23,'armature','winding','drop','21','22','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:34.448374','2026-11-26 14:05:34.448458',0,NULL,1,1,'','bfd9d545a86262154cf2bcdc52b543ee05a85e5fc3ee537fdf782680b14ffcfd','','',NULL);
INSERT INTO "record_reading" VALUES(24,'21cf66315d17448fa299aa9e2d021843',24,'armature','winding','drop','22','23','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:34.468339','2026-11-26 14:05:34.468468',0,NULL,1,1,'','8293db1636c32c7c8d9561deb646d6e20d2cbc7fd57f5b0de9f7a4ed3b19199e','','',NULL);
INSERT INTO "record_reading" VALUES(25,'6fb5decbb959467b95b9302191f8d55b',25,'armature','winding','drop','23','24','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:34.493340','2026-11-26 14:05:34.493403',0,NULL,1,1,'','ae1468f98e3ae49859b83f80c591a68956c9b6ef777070fbc34c06753cd55db5','','',NULL);
INSERT INTO "record_reading" VALUES(26,'fc408208b7f74dd4a2b6b52c8baeadd0',26,'armature','winding','drop','24','25','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:34.619438','2026-11-26 14:05:34.619562',0,NULL,1,1,'','9015879c98378b3cf0efe5288b995493d20e581792f2a2d459d0d99da691603f','','',NULL);
INSERT INTO "record_reading" VALUES(27,'8049cfaa67944704b8dea027703e1ce9',27,'armature','winding','drop','25','26','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:34.637436','2026-11-26 14:05:34.637497',0,NULL,1,1,'','2503d21c90349932b435583007febeda5d3b0ca50be68982b8ddab32c3f53c21','','',NULL);
INSERT INTO "record_reading" VALUES(28,'6de34b96bdf947d18a93b28894ba1a62',28,'armature','winding','drop','26','27','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:34.662853','2026-11-26 14:05:34.667123',0,NULL,1,1,'','6224c267996537d56ba52d4abd9b8a38fbc3fcfea0a1dd0fa9fec721366a4e0c','','',NULL);
INSERT INTO "record_reading" VALUES(29,'5e1cf600fa9d496c94f26b6735c6ccbe',29,'armature','winding','drop','27','28','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:34.690835','2026-11-26 14:05:34.690942',0,NULL,1,1,'','f57876ca500a8f071df81e352e73520e9cb029d5c493dbed616906dd7b222cd6','','',NULL);
INSERT INTO "record_reading" VALUES(30,'af61d78a58ff4faca03a2a3e6553a593',30,'armature','winding','drop','28','29','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:34.713571','2026-11-26 14:05:34.713635',0,NULL,1,1,'','fd211b0f3a8b2191c70e6bf57ac0a875dbae15739880229c0a511eda9c6ca441','','',NULL);
INSERT INTO "record_reading" VALUES(31,'ab15d933388f4a139eed43d7e36d3026',31,'armature','winding','drop','29','30','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:34.734076','2026-11-26 14:05:34.734144',0,NULL,1,1,'','5978648c2606bab6aff05fd0ef1dbf484fd0d8d83930b2f44d36154f8d4b59f6','','',NULL);
INSERT INTO "record_reading" VALUES(32,'48f891f73d6845c598db56bbb0ad585d',32,'armature','winding','drop','30','31','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:34.847996','2026-11-26 14:05:34.848087',0,NULL,1,1,'','a3650152cbbec77d3ede410b065069a34c93e83033bedcef8f0808cda7f2714d','','',NULL);
INSERT INTO "record_reading" VALUES(33,'7736326900c74b108f59935d603602c7',33,'armature','winding','drop','31','32','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:34.871266','2026-11-26 14:05:34.871373',0,NULL,1,1,'','522066f26ff399f58eef4e9a53abb5ad43cfc0fe5b8d8cfdb23555a998d38bf1','','',NULL);
INSERT INTO "record_reading" VALUES(34,'67905aba364848a7b33c34a22556a667',34,'armature','winding','drop','32','33','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:34.893434','2026-11-26 14:05:34.893526',0,NULL,1,1,'','c6d8ae6056ceb0d72cf1175ca4de32cdab05c16a324d325d50b1787535197590','','',NULL);
INSERT INTO "record_reading" VALUES(35,'90a7f88fc5dd4d619bef50b5208c3239',35,'armature','winding','drop','33','34','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:34.953884','2026-11-26 14:05:34.953947',0,NULL,1,1,'','e9e0602ac3aeabe5cccec311788a1f52f591d883ef075caa87618bc9c3d5b695','','',NULL);
INSERT INTO "record_reading" VALUES(36,'77bb4d9a72394d37996a9fa4d39bef9a',36,'armature','winding','drop','34','35','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:35.021238','2026-11-26 14:05:35.021302',0,NULL,1,1,'','73eb005ebdaa9b43f41cb289cbd3e690e6f96130f5e021741065c89e82c05a97','','',NULL);
INSERT INTO "record_reading" VALUES(37,'6053d313907b48c894061ee2e59ae239',37,'armature','winding','drop','35','36','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:35.090107','2026-11-26 14:05:35.090174',0,NULL,1,1,'','a750279be334f5cc96755068a9cd7586bcf362325561a1354490eab9a1d0abe0','','',NULL);
INSERT INTO "record_reading" VALUES(38,'842db5c661994a4f90cacf9ebb162887',38,'armature','winding','drop','36','37','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:35.096985','2026-11-26 14:05:35.097040',0,NULL,1,1,'','b3a0d2d23a111a29d3fb40240d30710087a6f6da7c1363f29fe3a3c9a53bd342','','',NULL);
INSERT INTO "record_reading" VALUES(39,'a325e0ece6d24f6ea515d17baab2b5a5',39,'armature','winding','drop','37','38','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:35.163331','2026-11-26 14:05:35.163413',0,NULL,1,1,'','ec925f7f34b093f44b1a35b3946a972295f2621fa6c4cec3738097aff8e1b5b4','','',NULL);
INSERT INTO "record_reading" VALUES(40,'4bb883536b2f40eb9b2c9387a1e2d0a3',40,'armature','winding','drop','38','39','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:35.294258','2026-11-26 14:05:35.294347',0,NULL,1,1,'','d9f39fc971d05442c35b2b1d7c9e39d4f320538cc1581e0a81b32d3663a69728','','',NULL);
INSERT INTO "record_reading" VALUES(41,'64b443d970e64dedb61c70d96de70d1c',41,'armature','winding','drop','39','40','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:35.386129','2026-11-26 14:05:35.386209',0,NULL,1,1,'','50292aa40967189a5b0bf7c5bf9fb3da8b0e0d899efe1c5438169758351da4c6','','',NULL);
INSERT INTO "record_reading" VALUES(42,'c8b84a5ef1e84fcf914f0a3053e23814',42,'armature','winding','drop','40','41','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:35.422453','2026-11-26 14:05:35.422545',0,NULL,1,1,'','e54cbc70399f680113ae858c2abaed62f67e19cfaf24925e8f59202076b67d2b','','',NULL);
INSERT INTO "record_reading" VALUES(43,'3ba698458cae42ae94b4c1ae660c40cf',43,'armature','winding','drop','41','42','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:35.442628','2026-11-26 14:05:35.442711',0,NULL,1,1,'','23216f1942cb063317ee6bede150e0b9671918a730c949af06bb9e688176d1f8','','',NULL);
INSERT INTO "record_reading" VALUES(44,'f8f0bcd407a246a7b676b7185751cc66',44,'armature','winding','drop','42','43','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:35.521802','2026-11-26 14:05:35.521877',0,NULL,1,1,'','a6c84db09ad0d42d65a7a4a007ffcf4b348a7237ca86e141ff9c157032ee6f76','','',NULL);
INSERT INTO "record_reading" VALUES(45,'f76a1bf4d9fe4809ade2cafc93c981c1',45,'armature','winding','drop','43','44','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:35.576501','2026-11-26 14:05:35.576566',0,NULL,1,1,'','e8a14a6bdde1013553a33918f51461a15cb53accb90b18244aa828071bd87378','','',NULL);
INSERT INTO "record_reading" VALUES(46,'983a3fe02cf7422f96829618da4c873d',46,'armature','winding','drop','44','45','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:35.614506','2026-11-26 14:05:35.614574',0,NULL,1,1,'','785a604f2636d8227444bd9d16e6dc53496768e062936e038acd317ee9fa9329','','',NULL);
INSERT INTO "record_reading" VALUES(47,'2395e0bb1692413fbd41d6bae25c86d1',47,'armature','winding','drop','45','46','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:35.657690','2026-11-26 14:05:35.657793',0,NULL,1,1,'','e9f6dcfea60e0500382918ae5ae838f9a717fc8533ce2e1a4d55976cb6cad078','','',NULL);
INSERT INTO "record_reading" VALUES(48,'0650ef88147e4fabbd9b2c802796ac44',48,'armature','winding','drop','46','47','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:35.707904','2026-11-26 14:05:35.707995',0,NULL,1,1,'','9703c3bded65b3ea8cdf7bad47e76159dbe69a3a46f7e4f6a12d35e8c4f49d3a','','',NULL);
INSERT INTO "record_reading" VALUES(49,'1ae10ec8233649af95bed6da3d966014',49,'armature','winding','drop','47','48','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:35.767733','2026-11-26 14:05:35.780686',0,NULL,1,1,'','36dd2abd8c319e471474c449fd2186f480c1452682ac29c3f500e6dfcf5bb8f6','','',NULL);
INSERT INTO "record_reading" VALUES(50,'e567437f798648edba6e4fbedca96dd9',50,'armature','winding','drop','48','49','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:35.801908','2026-11-26 14:05:35.801979',0,NULL,1,1,'','c934935253b8e5360efbad6a8278190f9010cd1c5b9107497ad5981f72662de4','','',NULL);
INSERT INTO "record_reading" VALUES(51,'ca689a04a05b4b85badb4ef3c749ecc2',51,'armature','winding','drop','49','50','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:35.830712','2026-11-26 14:05:35.830826',0,NULL,1,1,'','8ccdd8af4e02acb495ff9b690003bdc265984b8080b3420d7c6ea002b08fe868','','',NULL);
INSERT INTO "record_reading" VALUES(52,'4f932af4e26a454eb32acc6cd6b6cbe0',52,'armature','winding','drop','50','51','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:35.854076','2026-11-26 14:05:35.854150',0,NULL,1,1,'','5908f5cbe9ab9b299764b6a09baa0264270534986a6df3e2d0f8edc67b43c4de','','',NULL);
INSERT INTO "record_reading" VALUES(53,'91eabd127bc64850a657a3dea16d2918',53,'armature','winding','drop','51','52','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:35.878021','2026-11-26 14:05:35.878107',0,NULL,1,1,'','3788b40e2fb563229e832f2ac888206f3e159c0753bad1f398ec3ea36ab05e82','','',NULL);
INSERT INTO "record_reading" VALUES(54,'8d255f5df7864afa838a096a64a2d62d',54,'armature','winding','drop','52','53','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:35.906372','2026-11-26 14:05:35.906478',0,NULL,1,1,'','82523bc234201e60b32058450733ba6e83284526e2c309cd5a2c286123fff776','','',NULL);
INSERT INTO "record_reading" VALUES(55,'0d9769faf58b47bfb24143317dacd4a2',55,'armature','winding','drop','53','54','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:35.930017','2026-11-26 14:05:35.930118',0,NULL,1,1,'','e8d563f381fa53bcdd273e7ee9d3423a367b3162475715fa251b476899bc5c23','','',NULL);
INSERT INTO "record_reading" VALUES(56,'41a46f02890d460f9a8161d8cf264f60',56,'armature','winding','drop','54','55','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:35.968837','2026-11-26 14:05:35.968919',0,NULL,1,1,'','6676f34782f9523c283b6809521a20b23fc8ed2d250584ef489dd956cad56173','','',NULL);
INSERT INTO "record_reading" VALUES(57,'f0af56921d9f4014aa81fcfd2097c394',57,'armature','winding','drop','55','56','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:35.986640','2026-11-26 14:05:35.986706',0,NULL,1,1,'','e5ff84fe4caecae62711ee68611856b6aec9f9ec1d609ad5cad9a1ce7a648a6e','','',NULL);
INSERT INTO "record_reading" VALUES(58,'13955bddb3304f9f8b773ba8739e322d',58,'armature','winding','drop','56','57','',0.00372,'3.72','mV',1,15,10.0,'2026-11-26 14:05:36.014003','2026-11-26 14:05:36.014085',0,NULL,1,1,'','8c51da48926cd80e5251b12c9b49f89dda7817b7df251ccb9a66fd83560ae291','','',NULL);
INSERT INTO "record_reading" VALUES(59,'9ce31bdfb4e84824a0dff75e0e96d6eb',59,'armature','winding','drop','57','1','',0.0037,'3.70','mV',1,15,10.0,'2026-11-26 14:05:36.041626','2026-11-26 14:05:36.041694',0,NULL,1,1,'','0f6cbe3b709c5933b214fb0002c16c8383d807e98aff920dc81b0a55ba27bf7f','','',NULL);
INSERT INTO "record_reading" VALUES(60,'39ab34b4bb2a4a34b9a1552527417312',60,'armature','winding','drop','57','1','',0.00371,'3.71','mV',1,15,10.0,'2026-11-26 14:05:36.073805','2026-11-26 14:05:36.073888',0,NULL,1,1,'','aab2100d36d0450bcaec2d12cd5044ac1836f109be5a0bb8ff6cf7bdcd592f6e','','',NULL);
INSERT INTO "record_reading" VALUES(61,'5e82c6a5620b4263a0a9cf81fbf1beb7',61,'armature','winding','drop','57','1','',NULL,'','mV',NULL,NULL,NULL,'2026-11-26 14:05:36.112896','2026-11-26 14:05:36.113636',1,NULL,1,1,'touched the wrong bar','00ca7e881a57d9fe877e05baec2d2e3065ec4e9f4c9f7d0121b1eac3c54f8346','','',59);
INSERT INTO "record_reading" VALUES(62,'9eee7d23b06f45309d4ac7964714f909',62,'intake','turns-by-hand','','','','',NULL,'stiff','',NULL,NULL,NULL,'2026-11-26 14:05:36.129002','2026-11-26 14:05:36.129066',0,NULL,1,1,'','aa0612f379168a6c017aa8bee6d113d34919d3ca51b86cadca676793598d55e2','','',NULL);
INSERT INTO "record_reading" VALUES(63,'69088e470ea64064b24a79a660fee2bf',63,'intake','as-received','','','','',NULL,'drive end','',NULL,NULL,NULL,'2026-11-26 14:05:37.985887','2026-11-26 14:05:37.985952',0,NULL,1,1,'','ec6a13203766b313aed7f1e788a77fa5837d97b55e2f322a03d58d26ae505108','','',NULL);
CREATE TABLE "record_result" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "station_key" varchar(60) NOT NULL, "check_key" varchar(60) NOT NULL, "decision" varchar(12) NOT NULL, "value" real NULL, "uncertainty" real NULL, "quantity" varchar(20) NOT NULL, "unit" varchar(12) NOT NULL, "probability" real NULL, "line" text NOT NULL, "settle" text NOT NULL, "details" text NOT NULL CHECK ((JSON_VALID("details") OR "details" IS NULL)), "software_version" varchar(40) NOT NULL, "seqs" text NOT NULL CHECK ((JSON_VALID("seqs") OR "seqs" IS NULL)), "fingerprint" varchar(64) NOT NULL, "made_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "sheet_id" bigint NULL REFERENCES "record_sheetversion" ("id") DEFERRABLE INITIALLY DEFERRED);
INSERT INTO "record_result" VALUES(1,'commutator','diameter','accept',3.14959999999999962216e-02,7.33234841870824719575e-07,'length','in',1.0,'Diameter as it came: 1.2400 in, within its limit, 1.226 in or more. 42 % worn.','','{"places": [{"place": [], "value": 0.031495999999999996, "uncertainty": 7.332348418708247e-07, "readings": 1, "decision": "accept", "probability": 1.0, "accepted_from": 0.031141606063989056, "accepted_to": null}], "not_read": [], "only_last_digit": true, "settled_by_uncertainty": null, "settled_by_repeats": null, "limit": "commutator-diameter", "lower": 0.0311404, "upper": null, "target": null, "limit_unit": "in", "source": "own measurement: invented", "general": false, "worn_percent": 41.66666666666724, "worn_low_percent": 41.4309196387344, "worn_high_percent": 41.90241369460008, "extrapolated": null, "micrometers": [{"bar": 1, "track": 0.5, "diameter_m": 0.031495999999999996, "resolution_m": 2.54e-06}]}','0.1.0','[1]','57ccd6706028aa6d7495fc6014b1e18143f8e23f4a798a101eaf1d0b9a401284','2026-11-26 14:05:33.357813',1,1);
INSERT INTO "record_result" VALUES(2,'commutator','diameter','accept',3.15493399999999951655e-02,7.33234841870824719575e-07,'length','in',1.0,'Diameter as it came: 1.2421 in, within its limit, 1.226 in or more. 33 % worn.','','{"places": [{"place": [], "value": 0.031549339999999995, "uncertainty": 7.332348418708247e-07, "readings": 1, "decision": "accept", "probability": 1.0, "accepted_from": 0.031141606063989056, "accepted_to": null}], "not_read": [], "only_last_digit": true, "settled_by_uncertainty": null, "settled_by_repeats": null, "limit": "commutator-diameter", "lower": 0.0311404, "upper": null, "target": null, "limit_unit": "in", "source": "own measurement: invented", "general": false, "worn_percent": 32.91666666666744, "worn_low_percent": 32.6809196387346, "worn_high_percent": 33.15241369460027, "extrapolated": null, "micrometers": [{"bar": 1, "track": 0.5, "diameter_m": 0.031549339999999995, "resolution_m": 2.54e-06}]}','0.1.0','[2]','1f69029ff0b037d739458c2f1911a4d52f80b6d32ff1cac5957a1ed92d1b5b4d','2026-11-26 14:05:33.447370',1,1);
INSERT INTO "record_result" VALUES(3,'intake','turns-by-hand','undecided',NULL,NULL,'','',NULL,'Turns by hand: stiff.','Look for the cause at teardown: bush, bent shaft, pole shoe.','{"answers": {"": "stiff"}, "not_read": []}','0.1.0','[62]','3bcbf7db42f94598ac57762eda3fb8f5d9433a08dbe247e9570b941fca262702','2026-11-26 14:05:36.146012',1,1);
INSERT INTO "record_result" VALUES(4,'armature','winding','undecided',NULL,NULL,'','',9.94782013633641826189e-01,'Winding: undecided, 99.5 % sound.','Take ground 1 to the shaft: nothing taken so far can show a ground','{"diagnosis": {"verdict": "undecided", "sound_probability": 0.9947820136336418, "findings": [{"fault": "open-coil", "coil": 44, "bars": [44, 15], "slots": [22, 29], "probability": 0.00024015161135900064, "severity": {}, "explanation": 2}], "suspects": [{"reading": {"test": "drop", "start": 15, "end": 16, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 15}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 16, "end": 17, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 16}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 17, "end": 18, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 17}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 18, "end": 19, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 18}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 19, "end": 20, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 19}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 20, "end": 21, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 20}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 21, "end": 22, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 21}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 22, "end": 23, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 22}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 23, "end": 24, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 23}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 24, "end": 25, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 24}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 25, "end": 26, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 25}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 26, "end": 27, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 26}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 27, "end": 28, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 27}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 28, "end": 29, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 28}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 29, "end": 30, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 29}, "reason": "bad touch: more than the other readings call for; read it again", "probability": 1.0}, {"reading": {"test": "drop", "start": 43, "end": 44, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 43}, "reason": "bad touch: more than the other readings call for; read it again", "probability": 1.0}, {"reading": {"test": "drop", "start": 44, "end": 45, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 44}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 45, "end": 46, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 45}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 46, "end": 47, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 46}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 47, "end": 48, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 47}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 48, "end": 49, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 48}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 49, "end": 50, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 49}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 50, "end": 51, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 50}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 51, "end": 52, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 51}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 52, "end": 53, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 52}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 53, "end": 54, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 53}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 54, "end": 55, "value": 0.0037, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.70", "unit": "mV", "line": 54}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 55, "end": 56, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 55}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 56, "end": 57, "value": 0.00372, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.72", "unit": "mV", "line": 56}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}, {"reading": {"test": "drop", "start": 57, "end": 1, "value": 0.00371, "state": null, "resolution": 1e-05, "feed": {"into": 1, "out": 15, "amps": 10.0}, "entered": "3.71", "unit": "mV", "line": 57}, "reason": "wrong way round: the other readings call for the other sign; leads changed over here?", "probability": 1.0}], "smallest_detectable": {"shorted-coil": {"fault": "shorted-coil", "severity": {"bridge_ratio": 6.999999999999999}, "hidden": [], "why": "would have been seen, even a weak one (a path of up to 7 times a coil''s own resistance)"}, "high-resistance-joint": {"fault": "high-resistance-joint", "severity": {"factor": 1.15}, "hidden": [], "why": "would have been seen from 15 % above a healthy coil"}, "open-coil": {"fault": "open-coil", "severity": {"any": 1.0}, "hidden": [], "why": "would have been seen wherever it is"}, "bar-bridge": {"fault": "bar-bridge", "severity": {"bridge_ratio": 13.999999999999996}, "hidden": [29, 43], "why": "would have been seen, even a weak one (a path of up to 14 times a coil''s own resistance); out of sight at 2 of 57 places"}, "reversed-coil": {"fault": "reversed-coil", "severity": {}, "hidden": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57], "why": "these readings cannot show a reversed coil; take induced readings"}, "grounded-coil": {"fault": "grounded-coil", "severity": {}, "hidden": [1, 2, 3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57], "why": "these readings cannot show a grounded coil; take ground readings"}}, "next_reading": {"test": "ground", "start": 1, "end": null, "feed": null, "why": "nothing taken so far can show a ground"}, "expected": [0.0037107644251074745, 0.0037107264459697257, 0.0037106884813868737, 0.0037106505313584527, 0.003710612595884046, 0.0037105746749631994, 0.003710536768595486, 0.0037104988767804573, 0.0037104609995176814, 0.0037104231368067135, 0.003710385288647127, 0.003710347455038479, 0.003710309635980334, 0.0037102718314722567, -0.003582294936634019, -0.0035822584638250687, -0.0035822220050631963, -0.003582185560347972, -0.0035821491296789874, -0.003582112713055814, -0.0035820763104780226, -0.0035820399219452016, -0.003582003547456928, -0.0035819671870127795, -0.0035819308406123324, -0.0035818945082551775, -0.0035818581899408975, -0.0035818218856690618, 6.39604570614171e-05, 0.003709668937795731, 0.003709631380572031, 0.003709593837890565, 0.0037095563097508896, 0.003709518796152585, 0.0037094812970951963, 0.0037094438125783004, 0.0037094063426014634, 0.0037093688871642524, 0.003709331446266229, 0.003709294019906975, 0.003709256608086042, 0.0037092192108030175, 6.39514108285754e-05, -0.003581242926750672, -0.0035812068611363788, -0.0035811708095570215, -0.0035811347720121644, -0.0035810987485013967, -0.0035810627390242987, -0.003581026743580462, -0.0035809907621694574, -0.0035809547947908828, -0.003580918841444305, -0.0035808829021293388, -0.0035808469768455384, -0.0035808110655925073, -0.0035807751683698263], "notes": ["drop fed at bars 1 and 15: 28 of 55 readings have the wrong sign for this feed, the others the right one; the current divides, so on part of the commutator the drop is minus: keep the red lead on the first bar of each pair and enter the sign the meter shows", "no state of the armature known here explains these readings: too many contradict each other; check the winding''s description, the feed and the meter, or look for a fault not covered, such as three at once", "these readings cannot show a reversed coil; take induced readings", "these readings cannot show a grounded coil; take ground readings"]}, "unused": []}','0.1.0','[3, 4, 5, 6, 7, 8, 9, 10, 11, 12, 13, 14, 15, 16, 17, 18, 19, 20, 21, 22, 23, 24, 25, 26, 27, 28, 29, 30, 31, 32, 33, 34, 35, 36, 37, 38, 39, 40, 41, 42, 43, 44, 45, 46, 47, 48, 49, 50, 51, 52, 53, 54, 55, 56, 57, 58, 60]','bcb838fb2705fb56f0920a67271637c5b2e5f6851ef8a2b1235a6bcda525aa3a','2026-11-26 14:05:37.907845',1,1);
INSERT INTO "record_result" VALUES(5,'intake','as-received','noted',NULL,NULL,'','',NULL,'Photo as it came in: drive end.','','{"noted": ["drive end"]}','0.1.0','[63]','dbbf6d2d2e588f4a8dccbbe63dd9ea008ae676c54539da33b5e1ec7b73151a39','2026-11-26 14:05:38.007811',1,1);
CREATE TABLE "record_seal" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "number" integer unsigned NOT NULL CHECK ("number" >= 0), "packed" BLOB NOT NULL, "digest" varchar(64) NOT NULL, "signature" varchar(128) NOT NULL, "signed_at" datetime NOT NULL, "job_id" bigint NOT NULL REFERENCES "record_job" ("id") DEFERRABLE INITIALLY DEFERRED, "key_id" bigint NOT NULL REFERENCES "record_shopkey" ("id") DEFERRABLE INITIALLY DEFERRED, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "seal_numbered_once" UNIQUE ("job_id", "number"));
CREATE TABLE "record_sheetversion" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "key" varchar(60) NOT NULL, "version" integer unsigned NOT NULL CHECK ("version" >= 0), "title" varchar(200) NOT NULL, "family_key" varchar(60) NOT NULL, "toml" text NOT NULL, "sha256" varchar(64) NOT NULL, "invented" bool NOT NULL, "stored_at" datetime NOT NULL, "person_id" bigint NULL REFERENCES "record_person" ("id") DEFERRABLE INITIALLY DEFERRED, CONSTRAINT "sheet_version_once" UNIQUE ("key", "version"));
INSERT INTO "record_sheetversion" VALUES(1,'demo-57-wave',1,'Invented 12 V starter, 57 bars, wave wound','starter','# An invented model: no real machine has this sheet. It goes with the files of examples/demo.
key = "demo-57-wave"
title = "Invented 12 V starter, 57 bars, wave wound"
family = "starter"
version = 1
invented = true
notes = "Invented for the demonstration; every number on it is made up."

[facts]
voltage = 12
field = "series-parallel"
commutator = "barrel"
drive = "roller-clutch"
reduction = "none"
switch = "on-starter"
bearings = "bushes"
rotation = "clockwise"
return = "housing"
brushes = 4
field-coils = 4
field-turns = 8

[winding]
kind = "wave"
poles = 4
bars = 57
slots = 29
turns_per_coil = 1
progression = "retrogressive"

[commutator]
bars = 57
unit = "in"
brush_band = [0.12, 0.88]
may_turn = true
may_undercut = true
interval_wear = 0.006

[limits.commutator-diameter]
new = 1.250
half_worn = 1.238
discard = 1.226
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.commutator-runout]
high = 0.002
unit = "in"
source = { kind = "own measurement", text = "invented" }
also = { high = 0.05, unit = "mm" }

[limits.shaft-runout]
high = 0.003
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.journal-drive-end]
new = 0.5000
discard = 0.4970
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.journal-commutator-end]
new = 0.5620
discard = 0.5590
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-bore-drive-end]
new = 0.5020
discard = 0.5060
grows = true
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-bore-commutator-end]
new = 0.5640
discard = 0.5680
grows = true
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-clearance-commutator-end]
low = 0.001
high = 0.006
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.bush-clearance-drive-end]
low = 0.001
high = 0.006
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.brush-length]
new = 0.740
discard = 0.400
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.brush-width]
low = 0.745
high = 0.752
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.brush-thickness]
low = 0.307
high = 0.314
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.spring-force]
low = 32
high = 48
unit = "ozf"
source = { kind = "own measurement", text = "invented" }

[limits.armature-insulation]
low = 5
unit = "Mohm"
note = "as read at room temperature"
source = { kind = "own measurement", text = "invented" }

[limits.field-insulation]
low = 1
unit = "Mohm"
note = "as read at room temperature"
source = { kind = "own measurement", text = "invented" }

[limits.field-feed-current]
target = 20
unit = "A"
source = { kind = "own measurement", text = "invented" }

[limits.field-coil-drop]
low = 38
high = 46
unit = "mV"
note = "at 20 A, 20 °C"
source = { kind = "own measurement", text = "invented" }

[limits.switch-test-voltage]
target = 10
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.pull-in-current]
low = 30
high = 44
unit = "A"
note = "at 10 V"
source = { kind = "own measurement", text = "invented" }

[limits.hold-in-current]
low = 8
high = 12
unit = "A"
note = "at 10 V"
source = { kind = "own measurement", text = "invented" }

[limits.pull-in-voltage]
high = 7.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.release-voltage]
low = 0.3
high = 2.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.cranking-current]
target = 350
unit = "A"
source = { kind = "own measurement", text = "invented" }

[limits.plunger-travel]
low = 0.420
high = 0.470
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.plunger-overtravel]
low = 0.040
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-span]
new = 0.4880
discard = 0.4650
unit = "in"
note = "over 2 teeth"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-chamfer]
low = 0.040
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.clutch-slip-torque]
low = 70
unit = "lbf.ft"
source = { kind = "own measurement", text = "invented" }

[limits.clutch-drag-torque]
high = 6
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.spline-play]
high = 0.010
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.return-spring-length]
low = 1.450
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-travel]
low = 0.650
high = 0.750
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.lever-play]
high = 0.040
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.end-play]
low = 0.005
high = 0.030
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.pinion-clearance]
low = 0.020
high = 0.140
unit = "in"
source = { kind = "own measurement", text = "invented" }

[limits.through-bolt-torque]
low = 60
high = 80
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.switch-screw-torque]
low = 40
high = 60
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.terminal-torque]
low = 80
high = 110
unit = "lbf.in"
source = { kind = "own measurement", text = "invented" }

[limits.no-load-volts]
target = 11.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.no-load-current]
low = 55
high = 85
target = 70
unit = "A"
note = "at 11.5 V, switch included"
source = { kind = "own measurement", text = "invented" }

[limits.no-load-speed]
low = 3600
high = 5400
target = 4600
unit = "rpm"
note = "at 11.5 V"
source = { kind = "own measurement", text = "invented" }

[limits.lock-volts]
target = 4.0
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.lock-current]
high = 520
target = 450
unit = "A"
note = "at 4.0 V"
source = { kind = "own measurement", text = "invented" }

[limits.lock-torque]
low = 12.0
target = 13.8
unit = "lbf.ft"
note = "at 4.0 V"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-volts]
target = 9.5
unit = "V"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-current]
target = 350
unit = "A"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-speed]
target = 1480
unit = "rpm"
source = { kind = "own measurement", text = "invented" }

[limits.loaded-torque]
target = 10.0
unit = "lbf.ft"
source = { kind = "own measurement", text = "invented" }
','bd573ad43743cf0d76bda5087e6edec9c91ec63f7570e57e132a87ff2bf7fe1f',1,'2026-11-26 14:05:33.114889',NULL);
CREATE TABLE "record_shop" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "name" varchar(120) NOT NULL, "decimal_comma" bool NOT NULL, "length_unit" varchar(4) NOT NULL, "level" real NOT NULL, "invented" bool NOT NULL, "address" text NOT NULL, "warranty" text NOT NULL, "paper" varchar(6) NOT NULL, CONSTRAINT "one_shop" CHECK ("id" = 1), CONSTRAINT "shop_level" CHECK (("level" > 0.5 AND "level" < 1.0)));
CREATE TABLE "record_shopkey" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "fingerprint" varchar(64) NOT NULL UNIQUE, "public" varchar(64) NOT NULL, "made_at" varchar(40) NOT NULL, "follows" varchar(64) NOT NULL, "vouched" varchar(128) NOT NULL);
CREATE TABLE "record_unit" ("id" integer NOT NULL PRIMARY KEY AUTOINCREMENT, "tag" varchar(60) NOT NULL UNIQUE, "serial" varchar(80) NOT NULL, "family_key" varchar(60) NOT NULL, "description" varchar(200) NOT NULL, "invented" bool NOT NULL);
INSERT INTO "record_unit" VALUES(1,'T-100','S1','starter','',1);
CREATE UNIQUE INDEX "django_content_type_app_label_model_76bd3d3b_uniq" ON "django_content_type" ("app_label", "model");
CREATE UNIQUE INDEX "auth_group_permissions_group_id_permission_id_0cd325b0_uniq" ON "auth_group_permissions" ("group_id", "permission_id");
CREATE INDEX "auth_group_permissions_group_id_b120cbf9" ON "auth_group_permissions" ("group_id");
CREATE INDEX "auth_group_permissions_permission_id_84c5c92e" ON "auth_group_permissions" ("permission_id");
CREATE UNIQUE INDEX "auth_user_groups_user_id_group_id_94350c0c_uniq" ON "auth_user_groups" ("user_id", "group_id");
CREATE INDEX "auth_user_groups_user_id_6a12ed8b" ON "auth_user_groups" ("user_id");
CREATE INDEX "auth_user_groups_group_id_97559544" ON "auth_user_groups" ("group_id");
CREATE UNIQUE INDEX "auth_user_user_permissions_user_id_permission_id_14a6b632_uniq" ON "auth_user_user_permissions" ("user_id", "permission_id");
CREATE INDEX "auth_user_user_permissions_user_id_a95ead1b" ON "auth_user_user_permissions" ("user_id");
CREATE INDEX "auth_user_user_permissions_permission_id_1fbb5f2c" ON "auth_user_user_permissions" ("permission_id");
CREATE UNIQUE INDEX "auth_permission_content_type_id_codename_01ab375a_uniq" ON "auth_permission" ("content_type_id", "codename");
CREATE INDEX "auth_permission_content_type_id_2f476e4b" ON "auth_permission" ("content_type_id");
CREATE INDEX "axes_accessattempt_user_agent_ad89678b" ON "axes_accessattempt" ("user_agent");
CREATE INDEX "axes_accessattempt_ip_address_10922d9c" ON "axes_accessattempt" ("ip_address");
CREATE INDEX "axes_accessattempt_username_3f2d4ca0" ON "axes_accessattempt" ("username");
CREATE UNIQUE INDEX "axes_accessattempt_username_ip_address_user_agent_8ea22282_uniq" ON "axes_accessattempt" ("username", "ip_address", "user_agent");
CREATE INDEX "axes_accessfailurelog_user_agent_ea145dda" ON "axes_accessfailurelog" ("user_agent");
CREATE INDEX "axes_accessfailurelog_ip_address_2e9f5a7f" ON "axes_accessfailurelog" ("ip_address");
CREATE INDEX "axes_accessfailurelog_username_a8b7e8a4" ON "axes_accessfailurelog" ("username");
CREATE INDEX "axes_accesslog_user_agent_0e659004" ON "axes_accesslog" ("user_agent");
CREATE INDEX "axes_accesslog_ip_address_86b417e5" ON "axes_accesslog" ("ip_address");
CREATE INDEX "axes_accesslog_username_df93064b" ON "axes_accesslog" ("username");
CREATE INDEX "record_customer_name_1a72859b" ON "record_customer" ("name");
CREATE INDEX "record_unit_serial_e3f27a4d" ON "record_unit" ("serial");
CREATE INDEX "record_part_job_id_7a41363c" ON "record_part" ("job_id");
CREATE INDEX "record_part_person_id_b447d603" ON "record_part" ("person_id");
CREATE INDEX "record_change_at_f8e5f425" ON "record_change" ("at");
CREATE INDEX "record_change_job_id_a832cbe0" ON "record_change" ("job_id");
CREATE INDEX "record_change_person_id_4e191318" ON "record_change" ("person_id");
CREATE INDEX "record_photo_job_id_f41d0d2b" ON "record_photo" ("job_id");
CREATE INDEX "record_photo_person_id_50c0c5b2" ON "record_photo" ("person_id");
CREATE INDEX "record_result_job_id_63863d8c" ON "record_result" ("job_id");
CREATE INDEX "record_result_sheet_id_4e6bf6f9" ON "record_result" ("sheet_id");
CREATE UNIQUE INDEX "instrument_tag_in_use_once" ON "record_instrument" ("tag") WHERE NOT "retired";
CREATE INDEX "record_instrument_tag_8fbc4b09" ON "record_instrument" ("tag");
CREATE INDEX "record_disposition_job_id_04989b1e" ON "record_disposition" ("job_id");
CREATE INDEX "record_disposition_person_id_87d9d7a3" ON "record_disposition" ("person_id");
CREATE INDEX "dispositions_of_station" ON "record_disposition" ("job_id", "station_key", "id" DESC);
CREATE INDEX "changes_of_job" ON "record_change" ("job_id", "id" DESC);
CREATE INDEX "record_checkstanding_job_id_07a2b8b7" ON "record_checkstanding" ("job_id");
CREATE INDEX "record_checkstanding_result_id_0ee6b20c" ON "record_checkstanding" ("result_id");
CREATE INDEX "record_sheetversion_person_id_d743e71b" ON "record_sheetversion" ("person_id");
CREATE INDEX "results_of_check" ON "record_result" ("job_id", "station_key", "check_key", "id" DESC);
CREATE TRIGGER record_result_no_update BEFORE UPDATE ON record_result BEGIN SELECT RAISE(ABORT, 'record_result is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_result_no_delete BEFORE DELETE ON record_result BEGIN SELECT RAISE(ABORT, 'record_result is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_disposition_no_update BEFORE UPDATE ON record_disposition BEGIN SELECT RAISE(ABORT, 'record_disposition is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_disposition_no_delete BEFORE DELETE ON record_disposition BEGIN SELECT RAISE(ABORT, 'record_disposition is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_change_no_update BEFORE UPDATE ON record_change BEGIN SELECT RAISE(ABORT, 'record_change is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_change_no_delete BEFORE DELETE ON record_change BEGIN SELECT RAISE(ABORT, 'record_change is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_sheetversion_no_update BEFORE UPDATE ON record_sheetversion BEGIN SELECT RAISE(ABORT, 'record_sheetversion is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_sheetversion_no_delete BEFORE DELETE ON record_sheetversion BEGIN SELECT RAISE(ABORT, 'record_sheetversion is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_instrument_no_update BEFORE UPDATE OF tag, kind, quantity, unit, resolution_si, calibration_standard_uncertainty_si, repeatability_si, calibrated_on ON record_instrument BEGIN SELECT RAISE(ABORT, 'record_instrument is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_instrument_no_delete BEFORE DELETE ON record_instrument BEGIN SELECT RAISE(ABORT, 'record_instrument is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_approval_no_update BEFORE UPDATE ON record_approval BEGIN SELECT RAISE(ABORT, 'record_approval is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_approval_no_delete BEFORE DELETE ON record_approval BEGIN SELECT RAISE(ABORT, 'record_approval is kept as it was written: add a new row instead'); END;
CREATE INDEX "record_approval_job_id_1822986c" ON "record_approval" ("job_id");
CREATE INDEX "record_approval_person_id_4d6ab313" ON "record_approval" ("person_id");
CREATE INDEX "approvals_of_job" ON "record_approval" ("job_id", "id" DESC);
CREATE INDEX "record_job_customer_id_ff549b4c" ON "record_job" ("customer_id");
CREATE INDEX "record_job_sheet_id_83df65f7" ON "record_job" ("sheet_id");
CREATE INDEX "record_job_unit_id_89f51913" ON "record_job" ("unit_id");
CREATE INDEX "jobs_on_hand" ON "record_job" ("state", "opened_at" DESC);
CREATE INDEX "record_seal_job_id_2ef49c06" ON "record_seal" ("job_id");
CREATE INDEX "record_seal_key_id_db6d7c9e" ON "record_seal" ("key_id");
CREATE INDEX "record_seal_person_id_aa578501" ON "record_seal" ("person_id");
CREATE TRIGGER record_shopkey_no_update BEFORE UPDATE ON record_shopkey BEGIN SELECT RAISE(ABORT, 'record_shopkey is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_shopkey_no_delete BEFORE DELETE ON record_shopkey BEGIN SELECT RAISE(ABORT, 'record_shopkey is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_seal_no_update BEFORE UPDATE ON record_seal BEGIN SELECT RAISE(ABORT, 'record_seal is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_seal_no_delete BEFORE DELETE ON record_seal BEGIN SELECT RAISE(ABORT, 'record_seal is kept as it was written: add a new row instead'); END;
CREATE INDEX "record_reading_instrument_id_6f89e1a4" ON "record_reading" ("instrument_id");
CREATE INDEX "record_reading_job_id_1f3233ac" ON "record_reading" ("job_id");
CREATE INDEX "record_reading_person_id_4fc69a81" ON "record_reading" ("person_id");
CREATE INDEX "readings_of_check" ON "record_reading" ("job_id", "station_key", "check_key", "seq");
CREATE TRIGGER record_reading_no_update BEFORE UPDATE ON record_reading BEGIN SELECT RAISE(ABORT, 'record_reading is kept as it was written: add a new row instead'); END;
CREATE TRIGGER record_reading_no_delete BEFORE DELETE ON record_reading BEGIN SELECT RAISE(ABORT, 'record_reading is kept as it was written: add a new row instead'); END;
CREATE INDEX "django_session_expire_date_a5c62663" ON "django_session" ("expire_date");
DELETE FROM "sqlite_sequence";
INSERT INTO "sqlite_sequence" VALUES('django_migrations',32);
INSERT INTO "sqlite_sequence" VALUES('django_content_type',28);
INSERT INTO "sqlite_sequence" VALUES('auth_permission',111);
INSERT INTO "sqlite_sequence" VALUES('auth_group',3);
INSERT INTO "sqlite_sequence" VALUES('auth_user',0);
INSERT INTO "sqlite_sequence" VALUES('axes_accessattempt',0);
INSERT INTO "sqlite_sequence" VALUES('axes_accesslog',0);
INSERT INTO "sqlite_sequence" VALUES('record_instrument',1);
INSERT INTO "sqlite_sequence" VALUES('record_disposition',1);
INSERT INTO "sqlite_sequence" VALUES('record_checkstanding',4);
INSERT INTO "sqlite_sequence" VALUES('record_sheetversion',1);
INSERT INTO "sqlite_sequence" VALUES('record_shop',0);
INSERT INTO "sqlite_sequence" VALUES('record_job',1);
INSERT INTO "sqlite_sequence" VALUES('record_seal',0);
INSERT INTO "sqlite_sequence" VALUES('record_reading',63);
INSERT INTO "sqlite_sequence" VALUES('auth_group_permissions',6);
INSERT INTO "sqlite_sequence" VALUES('record_person',1);
INSERT INTO "sqlite_sequence" VALUES('record_unit',1);
INSERT INTO "sqlite_sequence" VALUES('record_change',8);
INSERT INTO "sqlite_sequence" VALUES('record_customer',1);
INSERT INTO "sqlite_sequence" VALUES('record_result',5);
INSERT INTO "sqlite_sequence" VALUES('record_photo',1);
INSERT INTO "sqlite_sequence" VALUES('record_part',1);
INSERT INTO "sqlite_sequence" VALUES('record_approval',1);
COMMIT;
